import { z } from 'zod'
import { ASPECTS, type Aspect } from '../../shared/fidelity/aspect.ts'
import type { Weights } from '../../shared/fidelity/total.ts'
import { line, lines, parseForm, requiredLine, type Parsed } from '../form.ts'

const MOST = 100

const weight = () =>
  line(10)
    .refine((text) => /^\d{1,3}$/.test(text) && Number(text) <= MOST, `Please give a whole number from 0 to ${MOST}.`)
    .transform(Number)

/** Its field in the form. */
export const weightField = <A extends Aspect>(aspect: A): `${A}Weight` => `${aspect}Weight`

const ofAspects = Object.fromEntries(ASPECTS.map((aspect) => [weightField(aspect), weight()])) as Record<
  `${Aspect}Weight`,
  ReturnType<typeof weight>
>

export const weightingSchema = z.object({
  name: requiredLine('Please name these weights, so that a total can say by which it was made.'),
  ...ofAspects,
  notes: lines(2000),
})

export interface WeightingForm {
  readonly name: string
  readonly weights: Weights
  readonly notes: string
}

export type WeightingEntered = Record<`${Aspect}Weight` | 'name' | 'notes', string>

export function readWeightingForm(body: unknown): Parsed<WeightingForm, WeightingEntered> {
  const read = parseForm(body, weightingSchema)
  if (!read.ok) return read
  const { name, notes } = read.value
  const weights = Object.fromEntries(ASPECTS.map((aspect) => [aspect, read.value[weightField(aspect)]])) as Record<
    Aspect,
    number
  >
  const value = { name, notes, weights }
  if (ASPECTS.every((aspect) => weights[aspect] === 0))
    return {
      ok: false,
      entered: typedWeighting(value),
      problems: { fibreWeight: 'At least one aspect must count: they are all 0.' },
    }
  return { ok: true, value }
}

/** Weights as they would be typed. */
export const typedWeighting = ({ name, weights, notes }: WeightingForm): WeightingEntered => ({
  ...{ name, notes },
  ...(Object.fromEntries(ASPECTS.map((aspect) => [weightField(aspect), String(weights[aspect])])) as Record<
    `${Aspect}Weight`,
    string
  >),
})
