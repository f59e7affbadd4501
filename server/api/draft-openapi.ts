import { z } from 'zod'
import { documentShape } from '../../shared/draft/document-shape.ts'
import { compareDraftsShape, inferShape, recoverShape } from './draft-shapes.ts'

const whole = { type: 'integer' }
const text = { type: 'string' }
const textOrNull = { type: ['string', 'null'] }
const flag = { type: 'boolean' }
const listOf = (items: object) => ({ type: 'array', items })
const object = (properties: Record<string, object>) => ({
  type: 'object',
  required: Object.keys(properties),
  properties,
})

const hole = { enum: ['A', 'B', 'C', 'D'] }
const looked = { enum: ['colour', 'slant'] }

const inference = object({
  draft: z.toJSONSchema(documentShape, { io: 'input' }),
  mismatches: listOf(object({ pick: whole, tablet: whole, observed: text, woven: textOrNull, of: looked })),
  perTablet: listOf(
    object({
      tablet: whole,
      mismatches: { description: 'Colours and slants that differ, each one.', ...whole },
      reversals: whole,
      solutions: {
        description:
          'Decimal: how many (start, turning) choices, with the returned holes and threading, reach the same least mismatches and then reversals.',
        ...text,
      },
      threadingIsOpen: { description: 'S is as good as Z; the draft says S.', ...flag },
      turnDiffers: { description: 'Picks at which these choices do not all turn the same way.', ...listOf(whole) },
      colourDiffers: { description: 'Picks at which they do not all show the same colour.', ...listOf(whole) },
      decides: {
        description: 'The cell that, once legible, leaves the fewest; leaves is how many at most.',
        type: ['object', 'null'],
        properties: { pick: whole, of: looked, leaves: text },
      },
    }),
  ),
})

const comparison = object({
  cells: { description: 'Cells in which both show a colour.', ...whole },
  equal: whole,
  agreement: { description: 'equal / cells; 0 when no cell can be compared.', type: 'number' },
  shift: { description: 'Pick 1 of b lies on pick 1 + shift of a.', ...whole },
  mirrored: { description: 'b lies with its last tablet on tablet 1 of a.', ...flag },
  differing: {
    description: 'Pick and tablet of a; 100,000 at most.',
    ...listOf(object({ pick: whole, tablet: whole, a: text, b: text })),
  },
  differingLeftOut: whole,
  triedUpTo: { description: 'The furthest that b was moved either way.', ...whole },
})

const recovery = object({
  expected: object({ topNear: hole, topFar: hole }),
  verdict: { enum: ['right', 'turnedTheOtherWay', 'turnMissed', 'turnedTwice', 'impossible'] },
  correction: { description: 'Quarter turns to make now, forward positive.', ...whole },
  face: object({ expected: textOrNull, woven: textOrNull }),
  unweave: { description: 'Picks to unweave for a face without a fault.', ...whole },
  rightFrom: { description: 'First pick with the right face when only the correction is made.', ...whole },
})

/** The calls on drafts that work something out, as the description lists them. */
export const draftCalls = [
  {
    path: '/draft/infer',
    summary: 'The turning that explains an observed face best, tablet by tablet, and how many are as good.',
    request: inferShape,
    response: inference,
  },
  {
    path: '/draft/compare',
    summary: 'Two faces laid over each other where they fit best.',
    request: compareDraftsShape,
    response: comparison,
  },
  {
    path: '/draft/recover',
    summary: 'What went wrong with a tablet, from the holes seen on top, and how it is put right.',
    request: recoverShape,
    response: recovery,
  },
]
