import { z } from 'zod'
import { COLOUR_KEY, COLOUR_KEY_RULE, documentShape } from '../../shared/draft/document-shape.ts'
import { HOLES, MOST_PICKS, MOST_TABLETS } from '../../shared/draft/draft.ts'

// Requests on drafts, as zod and therefore as OpenAPI.

const key = z.string().regex(COLOUR_KEY, COLOUR_KEY_RULE)
const hole = z.enum(HOLES)
const grid = <T extends z.ZodType>(cell: T) => z.array(z.array(cell).min(1).max(MOST_TABLETS)).min(1).max(MOST_PICKS)

const observed = grid(key.nullable()).describe('Picks x tablets of colour key, null where not legible; pick 1 first.')

export const inferShape = z.strictObject({
  title: z.string().max(300).optional().describe('Of the draft in the answer.'),
  colours: documentShape.shape.colours,
  weft: key.optional().describe('Where given, an empty hole shows it; where not, an empty hole agrees with no colour.'),
  tablets: z
    .array(
      z.strictObject({
        threading: z.enum(['S', 'Z']).nullable().describe('null when not known: only slants can tell it.'),
        holes: z.tuple([key.nullable(), key.nullable(), key.nullable(), key.nullable()]).nullable(),
        start: hole.nullable(),
        part: z.enum(['border', 'pattern']).default('pattern'),
      }),
    )
    .min(1)
    .max(MOST_TABLETS),
  observed,
  observedSlant: grid(z.enum(['/', '\\']).nullable())
    .optional()
    .describe('The same shape. A legible slant that leans the other way is a mismatch like one of colour.'),
  require: z
    .strictObject({
      closes: z.boolean().optional(),
      twistNeutral: z.boolean().optional(),
      longestFloat: z
        .number()
        .int()
        .min(1)
        .max(MOST_PICKS)
        .optional()
        .describe('Of face and reverse, within the repeat.'),
    })
    .default({}),
})

const face = z.union([documentShape, observed]).describe('A draft document or an observed grid.')
/** For the description; what is sent is read part by part, so that each fault has its path. */
export const compareDraftsShape = z.strictObject({ a: face, b: face })
export const compareSidesShape = z.strictObject({ a: z.unknown(), b: z.unknown() })
export const gridShape = observed

export const recoverShape = z.strictObject({
  draft: documentShape,
  pick: z.number().int().min(1),
  tablet: z.number().int().min(1),
  topNear: hole.describe('The hole seen at top-near after that pick.'),
  topFar: hole,
  rightUntil: z.number().int().min(0).optional().describe('The last pick after which it surely stood right.'),
})
