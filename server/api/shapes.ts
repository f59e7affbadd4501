import { z } from 'zod'

// Also the source of the request schemas in the OpenAPI description, so the two cannot drift apart.

const positive = z.number().positive().max(1e12)
const notNegative = z.number().min(0).max(1e12)

const quantity = z
  .strictObject({
    readings: z.array(notNegative).min(1).max(10_000).optional(),
    resolution: notNegative
      .optional()
      .describe('Full width of the last step of the ruler, in the unit of the readings.'),
    value: positive.optional(),
    u: notNegative.optional().describe('Standard uncertainty of the value.'),
    n: z.number().int().min(1).max(1_000_000).optional().describe('Readings behind a stated value.'),
  })
  .refine((side) => (side.readings === undefined) !== (side.value === undefined), 'Give either readings or a value.')
  .refine((side) => side.readings === undefined || (side.u === undefined && side.n === undefined), {
    message: 'u and n belong to a value; for readings they are computed.',
  })
  .refine((side) => side.value === undefined || side.resolution === undefined, {
    message: 'resolution belongs to readings; for a value give u.',
  })

export const compareShape = z.strictObject({ original: quantity, replica: quantity })

const sitting = z
  .strictObject({
    minutes: notNegative.max(1e6).describe('From start to end, breaks included.'),
    breakMinutes: notNegative.max(1e6).default(0),
    picks: notNegative.optional(),
    repeats: notNegative.optional(),
    lengthMm: notNegative.optional(),
  })
  .refine((one) => one.breakMinutes <= one.minutes, {
    path: ['breakMinutes'],
    message: 'The breaks are longer than the sitting.',
  })

export const paceShape = z.strictObject({ sittings: z.array(sitting).max(10_000) })
