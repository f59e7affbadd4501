import { checkDraft } from '../check.ts'
import type { Draft } from '../draft.ts'
import type { Turning, Woven } from '../woven.ts'

/** A check as a line of a list. */
export interface CheckLine {
  readonly verdict: 'good' | 'note' | 'warn'
  /** The verdict in words, for those who do not see its colour. */
  readonly label: string
  readonly text: string
}

const LABELS = { warn: 'Look at this first', note: 'Worth knowing', good: 'As wanted' } as const
const ORDER = ['warn', 'note', 'good'] as const

/** Most turns (tablets x picks) that are looked over while somebody waits: 400 tablets by 2,500 picks. Our own, by measuring. */
export const MOST_CHECKED_TURNS = 1_000_000

/**
 * The one line that stands where a draft is too long to be looked over on a page; undefined when it is not.
 * @example findTooLong(400, 20_000)?.text // '8000000 turns (400 tablets by 20000 picks) are more than …'
 * @example findTooLong(400, 2500) // undefined
 */
export function findTooLong(tablets: number, picks: number): CheckLine | undefined {
  const turns = tablets * picks
  if (turns <= MOST_CHECKED_TURNS) return undefined
  const text =
    `${turns} turns (${tablets} tablets by ${picks} picks) are more than the ${MOST_CHECKED_TURNS} that are looked over ` +
    'on a page, so twist, closure and floats of this repeat were not checked.'
  return { verdict: 'note', label: LABELS.note, text }
}

/**
 * The checks of a draft as lines, what asks for a look first; one line alone when it is too long (`findTooLong`).
 * @throws RangeError when draft, turning and woven are not of the same size
 * @example listCheckLines(draft, turning, woven)[0] // { verdict: 'note', label: 'Worth knowing', text: 'Not twist-neutral …
 */
export function listCheckLines(draft: Draft, turning: Turning, woven: Woven): CheckLine[] {
  const tooLong = findTooLong(turning.tablets, turning.picks)
  if (tooLong) return [tooLong]
  const checks = checkDraft(draft, turning, woven)
  const inOrder = ORDER.flatMap((verdict) => checks.filter((check) => check.verdict === verdict))
  return inOrder.map(({ verdict, text }) => ({ verdict, label: LABELS[verdict], text }))
}
