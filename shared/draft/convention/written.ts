import { assumed, type ConventionCard, OUR_FRAME, type Question, QUESTIONS, readCard } from './card.ts'

/**
 * How a draft of the notebook was written down before it came here: nobody has said yet; made here, in our own frame; or
 * as the convention card of its publication says, and converted by it.
 */
export type Written =
  { readonly kind: 'unsaid' } | { readonly kind: 'own' } | { readonly kind: 'card'; readonly card: ConventionCard }

/**
 * The text that it is stored, archived and sent as: empty, `own`, or the card as JSON with its questions in order.
 * @example writtenText({ kind: 'unsaid' }) // ''
 */
export function writtenText(written: Written): string {
  if (written.kind === 'unsaid') return ''
  if (written.kind === 'own') return 'own'
  return JSON.stringify(Object.fromEntries(QUESTIONS.map((question) => [question, written.card[question]])))
}

/**
 * Reads what `writtenText` wrote, word for word.
 * @returns undefined when it is anything else
 * @example readWritten('own') // { kind: 'own' }; readWritten('{}') // undefined
 */
export function readWritten(text: string): Written | undefined {
  if (text === '') return { kind: 'unsaid' }
  if (text === 'own') return { kind: 'own' }
  let parsed: unknown
  try {
    parsed = JSON.parse(text)
  } catch {
    return undefined
  }
  const card = readCard(parsed)
  if (card === undefined) return undefined
  const written = { kind: 'card' as const, card }
  return writtenText(written) === text ? written : undefined
}

/**
 * The card that a draft is converted by; that of our own frame where there is none.
 * @example cardOf({ kind: 'own' }) // OUR_FRAME
 */
export const cardOf = (written: Written): ConventionCard => (written.kind === 'card' ? written.card : OUR_FRAME)

/**
 * The questions that a card leaves open, in their order.
 * @example listOpen({ ...OUR_FRAME, rows: 'notStated' }) // ['rows']
 */
export const listOpen = (card: ConventionCard): readonly Question[] =>
  QUESTIONS.filter((question) => card[question] === 'notStated')

/**
 * Whether the card, with what it leaves open, says what our frame says; another card may still convert nothing.
 * @example isOurFrame(NOTHING_STATED) // true
 */
export const isOurFrame = (card: ConventionCard): boolean =>
  QUESTIONS.every((question) => assumed(card)[question] === OUR_FRAME[question])
