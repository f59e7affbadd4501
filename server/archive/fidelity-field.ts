import { z } from 'zod'
import { ASPECTS, PLACES } from '../../shared/fidelity/aspect.ts'
import { REASONS, RELATIONS } from '../../shared/fidelity/relation.ts'
import { binned, field, kept, oneOf, owned, texts, to, type Field } from './field.ts'
import { LENGTH_OF } from './length.ts'
import { day, text } from './value.ts'

const { line, lines } = LENGTH_OF

const share = z.number().int().min(0).max(100)
const SHARES = z.strictObject(Object.fromEntries(ASPECTS.map((aspect) => [aspect, share])))

/** Weights as they are kept: every aspect with a whole number, and at least one above zero. */
const weights = () =>
  text(2000).refine((kept) => {
    try {
      const read = SHARES.safeParse(JSON.parse(kept))
      return read.success && Object.values(read.data).some((one) => one > 0)
    } catch {
      return false
    }
  }, 'These are no weights of the aspects.')

export const FIDELITY_FIELDS: Readonly<Record<'judgement' | 'decision' | 'weighting', readonly Field[]>> = {
  judgement: [
    to('piece', 'piece'),
    field('aspect', oneOf(ASPECTS)),
    field('place', oneOf(PLACES)),
    field('relation', oneOf(RELATIONS)),
    field('reasonKind', oneOf(['', ...REASONS])),
    ...texts(['known', 'used', 'reason', 'labelWords'], lines),
    ...texts(['look', 'size', 'hand', 'wear'], line),
    binned,
    ...kept,
  ],
  decision: [
    to('original', 'original'),
    to('piece', 'piece'),
    field('onDay', day()),
    field('decidedBy', text(line)),
    field('question', text(line)),
    ...texts(['decided', 'evidence', 'considered'], lines),
    binned,
    ...kept,
  ],
  weighting: [field('name', text(line)), field('weights', weights()), field('notes', text(lines)), ...owned],
}
