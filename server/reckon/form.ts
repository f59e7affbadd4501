import { z } from 'zod'
import type { CountReading } from '../../shared/yarn/count-reading.ts'
import { PACKING_RANGES, type PackingKind } from '../../shared/yarn/diameter-range.ts'
import { fibreKey, type FibreDensity, LEAST_DENSITY, MOST_DENSITY } from '../../shared/yarn/density.ts'
import type { PhotoReading } from '../../shared/yarn/photo-scale.ts'
import { readStrands } from '../../shared/yarn/strands.ts'
import { WRAP_ALLOWANCE, type WrappedYarn } from '../../shared/yarn/wraps.ts'
import { choice, decimalText, line, parseForm, wholeNumber, type Parsed } from '../form.ts'

type PhotoField = 'threadsPx' | 'threads' | 'scalePx' | 'scaleMm'

export type ReckonEntered = Record<
  | 'count'
  | 'reading'
  | 'fibre'
  | 'density'
  | 'packing'
  | 'contraction'
  | 'turns'
  | 'wraps'
  | 'over'
  | 'kind'
  | PhotoField,
  string
>

export interface Reckoning {
  /** What is plied; none where only wraps were counted. */
  readonly strands: readonly CountReading[]
  readonly fibre: string
  /** g/cm³, as typed in the place of the table's. */
  readonly density: number | undefined
  readonly packing: PackingKind
  /** Share of the length, not percent. */
  readonly contraction: number | undefined
  readonly turnsPerM: number | undefined
  readonly photo: PhotoReading | undefined
  readonly wraps: { readonly count: number; readonly overMm: number; readonly kind: WrappedYarn } | undefined
}

/** A question that the count left open, beside the readings one can choose from. */
export interface CountQuestion {
  readonly question: string
  readonly readings: readonly CountReading[]
}

const between = (least: number, most: number, message: string) =>
  decimalText(message)
    .transform((text) => (text === undefined ? undefined : Number(text)))
    .refine((value) => value === undefined || (value > least && value < most), message)

const SHAPE = {
  count: line(120),
  reading: wholeNumber(0, 99),
  density: between(
    LEAST_DENSITY,
    MOST_DENSITY,
    `Please type the density in g/cm³, above ${LEAST_DENSITY} and below ${MOST_DENSITY}; or leave it out.`,
  ),
  packing: choice(Object.keys(PACKING_RANGES) as PackingKind[], 'Please choose how it is spun.'),
  contraction: between(0, 60, 'Please type a share above 0 and below 60 %; or leave it out.'),
  turns: between(0, 20_000, 'Please type turns in a metre, above 0 and below 20 000; or leave it out.'),
  wraps: wholeNumber(1, 10_000),
  over: between(0, 10_000, 'Please type a length in mm, above 0 and below 10 000.'),
  threadsPx: between(0, 100_000, 'Please type a distance in pixels, above 0.'),
  threads: wholeNumber(1, 1000),
  scalePx: between(0, 100_000, 'Please type a distance in pixels, above 0.'),
  scaleMm: between(0, 10_000, 'Please type a length in mm, above 0 and below 10 000.'),
  kind: choice(Object.keys(WRAP_ALLOWANCE) as WrappedYarn[], 'Please choose what was wrapped.'),
}
const NAMES = ['fibre', ...Object.keys(SHAPE)] as (keyof ReckonEntered)[]

/** What is chosen before anybody has chosen, also in an address that names a count alone. */
const CHOSEN: Partial<ReckonEntered> = { fibre: 'wool', packing: 'worsted', kind: 'worsted' }

/**
 * @param densities of the fibres that can be chosen
 * @returns what is to be reckoned; or what was typed with a sentence per field, and the question if that is all that is missing
 */
export function readReckonForm(
  query: unknown,
  densities: readonly FibreDensity[],
): Parsed<Reckoning, ReckonEntered> & { readonly asked?: CountQuestion | undefined } {
  const fibres = densities.map(({ fibre }) => fibre)
  const schema = z.object({
    ...SHAPE,
    fibre: z.string().transform(fibreKey).pipe(choice(fibres, 'Please choose a fibre.')),
  })
  const form = parseForm(enteredOf(query), schema)
  if (!form.ok) return form
  const { count, reading, fibre, density, packing, contraction, turns, wraps, over, kind } = form.value
  const photo = photoOf(form.value)
  const refuse = (problems: Partial<ReckonEntered>, asked?: CountQuestion) => ({
    ...{ ok: false as const, entered: enteredOf(query), problems, asked },
  })
  if (count === '' && wraps === undefined && photo === undefined)
    return refuse({ count: 'Please write a count here, or wraps or a photograph’s scale below.' })
  if ((wraps === undefined) !== (over === undefined))
    return refuse(wraps === undefined ? { wraps: 'How many wraps?' } : { over: 'Along how many mm?' })
  if (photo === 'scalePx' || photo === 'scaleMm' || photo === 'threadsPx')
    return refuse({ [photo]: 'This is needed too, to go by a photograph’s scale.' })
  const read = count === '' ? { ok: true as const, readings: [] } : readStrands(count, reading)
  if (!read.ok)
    return 'message' in read
      ? refuse({ count: read.message })
      : refuse({ count: 'This can be read in several ways: please choose one below.' }, read)
  return {
    ok: true,
    value: {
      ...{ strands: read.readings, fibre, density, packing, turnsPerM: turns, photo },
      contraction: contraction === undefined ? undefined : contraction / 100,
      wraps: wraps === undefined || over === undefined ? undefined : { count: wraps, overMm: over, kind },
    },
  }
}

/** The reading; or which of its figures is missing. */
function photoOf({ threadsPx, threads = 1, scalePx, scaleMm }: Readonly<Record<PhotoField, number | undefined>>) {
  if (threadsPx === undefined && scalePx === undefined && scaleMm === undefined) return undefined
  if (threadsPx === undefined) return 'threadsPx'
  if (scalePx === undefined) return 'scalePx'
  return scaleMm === undefined ? 'scaleMm' : { threadsPx, threads, scalePx, scaleMm }
}

/** What stands in each field, as text. */
export function enteredOf(query: unknown): ReckonEntered {
  const asked = query as Readonly<Record<string, unknown>>
  return Object.fromEntries(
    NAMES.map((name) => {
      const typed = asked[name] ?? CHOSEN[name]
      return [name, typeof typed === 'string' ? typed : '']
    }),
  ) as ReckonEntered
}
