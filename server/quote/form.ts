import { QUOTE_FIELDS, TERM_FIELDS, type QuoteEntered } from '../../shared/price/quote-entry.ts'
import { quoteSheet } from '../../shared/price/quote-sheet.ts'
import { day, lines, readEntered } from '../form.ts'

/** Fields of several lines; all others hold one. */
export const TEXT_FIELDS: ReadonlySet<string> = new Set([
  ...['maker-address', 'client-address', 'work', 'of-original', 'deviations', 'sample', 'delivery', 'changes'],
  ...['cancelling', 'care', 'remarks', 'private-note', 'hours-base', 'payments'],
])

export interface ReadQuoteForm {
  readonly entered: QuoteEntered
  readonly problems: Readonly<Record<string, string>>
}

/** A quote as it was typed, every word of it, with a sentence beside each field that cannot be used. */
export function readQuoteForm(body: unknown): ReadQuoteForm {
  const entered = readEntered(body, QUOTE_FIELDS)
  const problems: Record<string, string> = { ...quoteSheet(entered).problems }
  lookOverWords(entered, problems)
  const until = day().safeParse(entered['valid-until'] ?? '')
  if (!until.success) problems['valid-until'] = until.error.issues[0]?.message ?? ''
  return { entered, problems }
}

/** What a maker keeps for all quotes; the numbers are read as those of a quote without hours. */
export function readTermsForm(body: unknown): ReadQuoteForm {
  const entered = readEntered(body, TERM_FIELDS)
  const kept: readonly string[] = TERM_FIELDS
  const all = Object.entries(quoteSheet(entered).problems).filter(([name]) => kept.includes(name))
  const problems = Object.fromEntries(all)
  lookOverWords(entered, problems)
  return { entered, problems }
}

const LINE = 300
const TEXT = 5000
const CONTROL = /[\p{Cc}\u2028\u2029]/u

function lookOverWords(entered: QuoteEntered, problems: Record<string, string>): void {
  for (const [name, typed] of Object.entries(entered)) {
    const isText = TEXT_FIELDS.has(name)
    const read = lines(isText ? TEXT : LINE).safeParse(typed)
    if (!read.success) problems[name] ??= read.error.issues[0]?.message ?? ''
    else if (!isText && CONTROL.test(typed)) problems[name] ??= 'Please leave out line breaks and control characters.'
  }
}

/** What stops a quote from being sent, beside what stops it from being kept. */
export function listUnready(entered: QuoteEntered): Record<string, string> {
  const needed = { client: 'Who is it for?', maker: 'Who makes it?', title: 'What is it called?' }
  const problems: Record<string, string> = {}
  for (const [name, question] of Object.entries(needed))
    if ((entered[name] ?? '').trim() === '') problems[name] = question
  if (quoteSheet(entered).figures.cases.likely.hours === 0n)
    problems['hours-weave'] = 'No price without its hours: how long does it take?'
  return problems
}
