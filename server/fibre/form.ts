import { z } from 'zod'
import { fibreKey, LEAST_DENSITY, MOST_DENSITY } from '../../shared/yarn/density.ts'
import { BLEND_FIBRE } from '../../shared/yarn/lot-blend.ts'
import { day, decimalText, parseForm, readEntered, requiredLine, type Parsed } from '../form.ts'

const RANGE = `Please type g/cm³ of the fibre itself, from ${LEAST_DENSITY} to ${MOST_DENSITY}, such as 1.31.`
const density = () =>
  decimalText(RANGE).refine(
    (text) => text === undefined || (Number(text) >= LEAST_DENSITY && Number(text) <= MOST_DENSITY),
    RANGE,
  )

const schema = z.object({
  fibre: requiredLine('Which fibre? Write it as the yarns name it, such as wool.', 60)
    .transform(fibreKey)
    .refine((word) => BLEND_FIBRE.test(word), 'Please write the fibre as a blend names it: letters, such as wool.'),
  low: density(),
  high: density(),
  source: requiredLine('Please say where the value is from: a book with its page, or how it was measured.'),
  onDay: day(),
})

/** A density of the maker's own; figures as typed, with a point. */
export interface DensityForm {
  readonly fibre: string
  readonly low: string
  /** Undefined where one value is given. */
  readonly high: string | undefined
  readonly source: string
  readonly onDay: string
}
export type DensityEntered = Record<keyof typeof schema.shape, string>

/** @param today on the maker's clock: what an empty day means */
export function readDensityForm(body: unknown, today: string): Parsed<DensityForm, DensityEntered> {
  const form = parseForm(body, schema)
  if (!form.ok) return form
  const { low, high, onDay = today } = form.value
  const entered = readEntered(body, Object.keys(schema.shape) as (keyof DensityEntered)[])
  if (low === undefined) return { ok: false, entered, problems: { low: RANGE } }
  if (high !== undefined && Number(high) < Number(low))
    return { ok: false, entered, problems: { high: 'The upper end of the range is below the lower one.' } }
  if (onDay > today)
    return { ok: false, entered, problems: { onDay: 'This day has not come yet; enter it when it is true.' } }
  const isRange = high !== undefined && Number(high) > Number(low)
  return { ok: true, value: { ...form.value, low, high: isRange ? high : undefined, onDay } }
}

/** As it would be typed. */
export const typedDensity = ({ fibre, low, high, source, onDay }: DensityForm): DensityEntered => ({
  ...{ fibre, low, source, onDay },
  high: high ?? '',
})
