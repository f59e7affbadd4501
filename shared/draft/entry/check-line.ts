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

/**
 * The checks of a draft as lines, what asks for a look first.
 * @throws RangeError when draft, turning and woven are not of the same size
 * @example listCheckLines(draft, turning, woven)[0] // { verdict: 'note', label: 'Worth knowing', text: 'Not twist-neutral …
 */
export function listCheckLines(draft: Draft, turning: Turning, woven: Woven): CheckLine[] {
  const checks = checkDraft(draft, turning, woven)
  const inOrder = ORDER.flatMap((verdict) => checks.filter((check) => check.verdict === verdict))
  return inOrder.map(({ verdict, text }) => ({ verdict, label: LABELS[verdict], text }))
}
