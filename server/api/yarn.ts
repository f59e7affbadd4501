import { z } from 'zod'
import { readDraft } from '../../shared/draft/document.ts'
import { COUNT_SYSTEMS, convertCount, type CountSystem } from '../../shared/yarn/count.ts'
import { planWarp, type WarpPlan } from '../../shared/yarn/warp-plan.ts'
import { ApiRefusal, readBody } from './problem.ts'

const SYSTEMS = Object.keys(COUNT_SYSTEMS) as [CountSystem, ...CountSystem[]]
const system = z.enum(SYSTEMS, { error: `This must be one of ${SYSTEMS.join(', ')}.` })

/** A number in an address: digits, a point, perhaps an exponent; nothing that `Number` would guess at. */
const written = (rule: RegExp, say: string) => z.string({ error: say }).regex(rule, say).transform(Number)

export const convertShape = z.strictObject({
  value: written(
    /^\d{1,15}(?:\.\d{1,15})?(?:e[+-]?\d{1,3})?$/i,
    'Give the count as a number above zero, as 28 or 12.5.',
  ),
  from: system,
  to: system,
  ply: written(/^\d{1,4}$/, 'Give the ply as a whole number from 1.').default(1),
})

const mm = z.number().min(0).max(1e9)

export const warpShape = z
  .strictObject({
    draft: z.unknown().optional().describe('A draft document; or give tablets.'),
    tablets: z
      .array(
        z.object({
          holes: z
            .array(z.string().max(8).nullable())
            .length(4)
            .describe('Colour keys of A to D; null for an empty hole, which takes no thread.'),
        }),
      )
      .min(1)
      .max(400)
      .optional(),
    wovenLengthMm: mm.positive().describe('Finished, where finishing shrinks it.'),
    shrinkagePercent: z
      .number()
      .min(0)
      .max(99)
      .optional()
      .describe('What finishing takes off the length, percent of the length before it; none if left out.'),
    takeUp: z.strictObject({ percent: z.number().min(0).max(1000), of: z.enum(['woven', 'warp']) }),
    loomWasteMm: mm,
    sampleMm: mm,
    fringeMm: mm,
    windingTurnMm: mm.positive().optional().describe('What one turn of the winder takes.'),
    yarns: z
      .record(z.string().max(8), z.strictObject({ tex: z.number().positive().max(1e9) }))
      .describe('By colour key. Of a colour that is left out the mass is null.'),
  })
  .refine((body) => (body.draft === undefined) !== (body.tablets === undefined), 'Give either draft or tablets.')
  .refine(({ takeUp }) => takeUp.of === 'woven' || takeUp.percent < 100, {
    path: ['takeUp', 'percent'],
    message: 'A take-up of the warp is below 100 %.',
  })

/** GET /yarn/convert. A count of zero, or one that no number can hold, is the caller's. */
export function convertYarn(query: unknown): ReturnType<typeof convertCount> {
  const { value, from, to, ply } = readBody(convertShape, query)
  try {
    return convertCount(value, from, to, ply)
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
    const path = error.message.startsWith('ply') ? 'ply' : 'value'
    throw new ApiRefusal(422, 'The request has values that cannot be used.', [{ path, message: error.message }])
  }
}

/** POST /plan/warp. */
export function planWarpCall(body: unknown): WarpPlan {
  const { draft, tablets, yarns, ...wants } = readBody(warpShape, body)
  const holes = draft === undefined ? tablets!.map((tablet) => tablet.holes) : holesOf(draft)
  const known = new Set(holes.flat())
  const strangers = Object.keys(yarns).filter((key) => !known.has(key))
  if (strangers.length > 0 && draft === undefined) {
    const errors = strangers.map((key) => ({ path: `yarns.${key}`, message: 'No hole is threaded with this colour.' }))
    throw new ApiRefusal(422, 'The request has values that cannot be used.', errors)
  }
  const tex = Object.fromEntries(Object.entries(yarns).map(([key, yarn]) => [key, yarn.tex]))
  return planWarp(holes, wants, tex)
}

function holesOf(document: unknown): readonly (readonly (string | null)[])[] {
  const read = readDraft(document)
  if (read.ok) return read.draft.tablets.map((tablet) => tablet.holes)
  const errors = read.problems.map(({ path, message }) => ({
    path: path === '' ? 'draft' : `draft.${path}`,
    message,
  }))
  throw new ApiRefusal(422, 'This is not a draft document.', errors)
}
