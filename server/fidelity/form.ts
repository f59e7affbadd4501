import { z } from 'zod'
import { SPOTS, spotKey } from '../../shared/fidelity/aspect.ts'
import { REASONS, RELATIONS, type Reason } from '../../shared/fidelity/relation.ts'
import { choice, line, lines, parseForm, type Parsed } from '../form.ts'

/** What a difference changes, each in a field of its own. */
export const EFFECTS = { look: 'the look', size: 'the size', hand: 'the hand', wear: 'the wear' } as const
export type Effect = keyof typeof EFFECTS

const WORDS = 2000

export const judgementSchema = z.object({
  spot: choice(SPOTS.map(spotKey), 'Please choose which aspect this is about.'),
  known: lines(WORDS),
  used: lines(WORDS),
  relation: choice(RELATIONS, 'Please choose how the two stand to each other.'),
  reasonKind: choice(['', ...REASONS] as readonly ('' | Reason)[], 'Please choose from the list.'),
  reason: lines(WORDS),
  ...{ look: line(), size: line(), hand: line(), wear: line() },
  labelWords: lines(500),
})

export type JudgementForm = z.output<typeof judgementSchema>
export type JudgementEntered = Record<keyof JudgementForm, string>

/**
 * A judgement as typed. A substitution needs its reason, for it is what a reader asks first; nothing else is needed, so
 * that a maker can begin with what they know.
 */
export function readJudgementForm(body: unknown): Parsed<JudgementForm, JudgementEntered> {
  const read = parseForm(body, judgementSchema)
  if (!read.ok) return read
  const { relation, reasonKind, reason, used } = read.value
  const entered = { ...read.value } as JudgementEntered
  if (relation === 'substituted' && reasonKind === '' && reason === '')
    return { ok: false, entered, problems: { reasonKind: 'Please say why something else was taken.' } }
  if ((relation === 'same' || relation === 'near' || relation === 'substituted') && used === '')
    return {
      ok: false,
      entered,
      problems: { used: 'Please say what the piece has; without it nothing can be compared.' },
    }
  return read
}
