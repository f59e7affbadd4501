import { z } from 'zod'

/** What was typed is kept word for word beside each problem, so that nothing is lost when the form comes back. */
export type Parsed<V, E extends Entered = Entered> =
  { ok: true; value: V } | { ok: false; entered: E; problems: Problems<E> }

export type Entered = Record<string, string>
export type Problems<E extends Entered = Entered> = Partial<Record<keyof E & string, string>>

/** Every field of a form as one string: missing is empty, a repeated field counts once, line ends are "\n". */
export function readEntered<N extends string>(body: unknown, names: readonly N[]): Record<N, string> {
  const fields = typeof body === 'object' && body !== null ? (body as Record<string, unknown>) : {}
  const entered = {} as Record<N, string>
  for (const name of names) {
    const typed = Object.hasOwn(fields, name) ? fields[name] : undefined
    const first: unknown = Array.isArray(typed) ? typed[0] : typed
    entered[name] = typeof first === 'string' ? first.replace(/\r\n?/g, '\n') : ''
  }
  return entered
}

/** Reads a form's fields by a zod object over strings: the value, or what was typed with a sentence beside each field. */
export function parseForm<S extends z.ZodObject>(
  body: unknown,
  schema: S,
): Parsed<z.output<S>, Record<keyof S['shape'] & string, string>> {
  const entered = readEntered(body, Object.keys(schema.shape) as (keyof S['shape'] & string)[])
  const result = schema.safeParse(entered)
  if (result.success) return { ok: true, value: result.data }
  const problems: Problems = {}
  for (const issue of result.error.issues) problems[String(issue.path[0])] ??= issue.message
  return { ok: false, entered, problems: problems as never }
}

/** Text of one line, trimmed; control characters are refused rather than dropped. */
export const line = (most = 300) =>
  z
    .string()
    .trim()
    .max(most, `Please keep this under ${most} characters.`)
    .refine((text) => !/[\p{Cc}\u2028\u2029]/u.test(text), 'Please leave out line breaks and control characters.')

/** At least one character that can be seen: a name of blanks of no width would be a link that nobody finds. */
export const requiredLine = (message: string, most = 300) =>
  line(most).refine((text) => /[^\p{Z}\p{C}\p{M}]/u.test(text), message)

/** 64 KB, the limit of a note; counted in UTF-8 bytes. */
export const NOTE_BYTES = 64 * 1024

/** Text of several lines. */
export const lines = (most = 10_000) =>
  z
    .string()
    .trim()
    .max(most, `Please keep this under ${most} characters.`)
    .refine((text) => !/[\u0000-\u0008\u000b-\u001f\u007f]/.test(text), 'Please leave out control characters.')

/** One of a closed list, by its key. */
export const choice = <K extends string>(keys: readonly K[], message: string) =>
  z.string().refine((text): text is K => (keys as readonly string[]).includes(text), message) as unknown as z.ZodType<
    K,
    string
  >

/** A decimal with point or comma, kept as text so that 13.0 stays 13.0; empty is undefined. */
export const decimalText = (message = 'Please type a number, such as 13.5 or 13,5.') =>
  z
    .string()
    .trim()
    .refine((text) => text === '' || DECIMAL.test(text), message)
    .transform((text) => (text === '' ? undefined : text.replace(',', '.')))

const DECIMAL = /^[+-]?\d{1,12}([.,]\d{1,12})?$/

/** A whole number from `least` to `most`; empty is undefined. */
export const wholeNumber = (least: number, most: number) =>
  z
    .string()
    .trim()
    .refine(
      (text) => text === '' || (/^\d{1,9}$/.test(text) && Number(text) >= least && Number(text) <= most),
      `Please type a whole number from ${least} to ${most}.`,
    )
    .transform((text) => (text === '' ? undefined : Number(text)))

/** A day as the browser sends it, `2026-03-14`; empty is undefined. */
export const day = () =>
  z
    .string()
    .trim()
    .refine((text) => text === '' || isDay(text), 'Please give the day as year-month-day, such as 2026-03-14.')
    .transform((text) => (text === '' ? undefined : text))

function isDay(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false
  const date = new Date(`${text}T00:00:00Z`)
  return !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text)
}

/** The id of something in this notebook; empty is undefined. Whether it exists is the caller's to ask. */
export const optionalId = () =>
  z
    .string()
    .trim()
    .refine((text) => text === '' || /^[1-9]\d{0,14}$/.test(text), 'Please choose from the list.')
    .transform((text) => (text === '' ? undefined : Number(text)))
