import { z } from 'zod'
import { MOST_SENT } from '../../shared/loom/queue.ts'
import { MOST_PLACE, STEP_KINDS, type StepKind } from '../../shared/loom/step.ts'
import { instant, number, text, uid, zone } from '../archive/value.ts'
import { line, parseForm, type Parsed } from '../form.ts'

/** As long as a word about a slip may be. */
export const LONGEST_NOTE = 300

const step = z.strictObject({
  uid: uid(),
  seq: number(1, 1_000_000_000),
  kind: z.enum(STEP_KINDS, `A step is one of ${STEP_KINDS.join(', ')}.`),
  place: number(0, MOST_PLACE),
  deviceAt: instant(),
  zone: zone(),
  revision: number(1, Number.MAX_SAFE_INTEGER).nullable(),
  after: instant().nullable(),
  note: text(LONGEST_NOTE),
})
const sent = z.strictObject({
  device: uid(),
  /** What the device's clock says while it sends; null where nobody knows: steps out of a file. */
  sentAt: instant().nullable(),
  steps: z.array(step).max(MOST_SENT, `At most ${MOST_SENT} steps are taken at once.`),
})
/** What a page that was taken along gives back, with any number of steps. */
const file = z.strictObject({
  format: z.literal('fellmark-loom-steps', 'This is no file of steps at the loom.'),
  version: z.literal(1, 'A newer Fellmark wrote this file.'),
  piece: uid(),
  device: uid(),
  steps: z.array(step).max(100_000),
})

export type SentSteps = z.output<typeof sent>
export type FileOfSteps = z.output<typeof file>

export type Read<T> =
  | { readonly ok: true; readonly value: T }
  /** Where it is wrong, `steps[3].place`, and why. */
  | { readonly ok: false; readonly path: string; readonly why: string }

/** Steps as a device sends them, strictly: what is not understood is refused with its place, and nothing of it is kept. */
export const readSentSteps = (body: unknown): Read<SentSteps> => read(sent, body)

/** @param typed the text of the file */
export function readFileOfSteps(typed: string): Read<FileOfSteps> {
  try {
    return read(file, JSON.parse(typed) as unknown)
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error
    return { ok: false, path: '', why: 'This is no JSON.' }
  }
}

function read<T>(schema: z.ZodType<T>, input: unknown): Read<T> {
  const parsed = schema.safeParse(input)
  if (parsed.success) return { ok: true, value: parsed.data }
  const [issue] = parsed.error.issues
  const unknown = issue?.code === 'unrecognized_keys' ? issue.keys[0] : undefined
  const path = pathText([...(issue?.path ?? []), ...(unknown === undefined ? [] : [unknown.slice(0, 40)])])
  return { ok: false, path, why: unknown === undefined ? (issue?.message ?? '') : 'A step has no such field.' }
}

const pathText = (path: readonly PropertyKey[]) =>
  path.reduce<string>(
    (all, step) => all + (typeof step === 'number' ? `[${step}]` : `${all && '.'}${String(step)}`),
    '',
  )

export type StepFields = 'from' | 'kind' | 'picks' | 'repeat' | 'pick' | 'note'
export interface TypedStep {
  readonly kind: StepKind
  readonly place: number
  readonly note: string
}

const whole = (least: number, most: number) =>
  z
    .string()
    .trim()
    .refine(
      (typed) => typed === '' || (/^\d{1,8}$/.test(typed) && Number(typed) >= least && Number(typed) <= most),
      `Please type a whole number from ${least} to ${most}.`,
    )

/**
 * A step by the buttons and fields of the page, without script.
 * @param picks of one repeat
 */
export function readStepForm(body: unknown, picks: number): Parsed<TypedStep, Record<StepFields, string>> {
  const form = parseForm(
    body,
    z.object({
      from: whole(0, MOST_PLACE),
      kind: z.string(),
      picks: whole(1, MOST_PLACE),
      repeat: whole(1, MOST_PLACE),
      pick: whole(1, picks),
      note: line(LONGEST_NOTE),
    }),
  )
  if (!form.ok) return form
  const { kind: typed, note } = form.value
  const kind = STEP_KINDS.find((each) => each === typed)
  const from = Number(form.value.from)
  const refuse = (problems: Partial<Record<StepFields, string>>) =>
    ({ ok: false, entered: form.value, problems }) as const
  if (kind === undefined) return refuse({ kind: 'Please use one of the buttons.' })
  if (kind === 'set' && (form.value.repeat === '' || form.value.pick === ''))
    return refuse({ [form.value.repeat === '' ? 'repeat' : 'pick']: 'Please say at which the next pick stands.' })
  const several = form.value.picks === '' ? 1 : Number(form.value.picks)
  if (kind === 'unwoven' && several > from) return refuse({ picks: `Only ${from} are woven.` })
  const place = {
    ...{ woven: from + 1, back: Math.max(0, from - 1), slip: from, pause: from },
    unwoven: from - several,
    set: (Number(form.value.repeat) - 1) * picks + Number(form.value.pick) - 1,
  }[kind]
  if (place > MOST_PLACE) return refuse({ repeat: 'So many picks no band has.' })
  return { ok: true, value: { kind, place, note } }
}
