import { toSignificant } from '../../shared/measure/rounding.ts'
import { toStatedValue } from '../../shared/measure/stated-value.ts'
import { PACKING_RANGES } from '../../shared/yarn/diameter-range.ts'
import { type Density, findDensity, type FibreDensity, toDensity } from '../../shared/yarn/density.ts'
import { reckonYarn, type ReckonedTwist, type ReckonedYarn } from '../../shared/yarn/reckoning.ts'
import { diameterFromWraps, texFromWraps } from '../../shared/yarn/wraps.ts'
import { texFromDiameter } from '../../shared/yarn/diameter.ts'
import { diameterFromPhoto, EDGE_PX, type PhotoReading } from '../../shared/yarn/photo-scale.ts'
import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { PageHead } from '../pages.ts'
import { enteredOf, readReckonForm, type ReckonEntered, type Reckoning } from './form.ts'

declare module '../pages.ts' {
  interface Pages {
    'reckon/show': ReckonPage
  }
}

/** A figure with its unit, and what it rests on. */
interface Figure {
  readonly name: string
  readonly value: string
  readonly rests: string
}

interface ReckonPage extends PageHead {
  readonly fields: Record<keyof ReckonEntered, FieldView>
  readonly readings: readonly { readonly href: string; readonly sentence: string }[]
  readonly sentences: readonly string[]
  readonly figures: readonly Figure[]
  readonly systems: readonly {
    readonly label: string
    readonly definition: string
    readonly whole: string
    readonly single: string
  }[]
  readonly hasSingles: boolean
  readonly wrapped: readonly Figure[]
  readonly photographed: readonly Figure[]
}

const labelled = (facts: Readonly<Record<string, { label: string }>>): [string, string][] =>
  Object.entries(facts).map(([key, { label }]) => [key, label])

const SPECS: Record<keyof ReckonEntered, FieldSpec> = {
  count: {
    label: 'The count, as it is written',
    hint: 'Nm 28/2, 16 lea, 20/2 wool, 34 tex x 2. Unlike strands with a plus: Nm 28 + 16 lea.',
    plain: true,
  },
  reading: { label: 'Which reading' },
  // Its options are the densities that the viewer goes by.
  fibre: { label: 'Fibre' },
  density: {
    label: 'Another density, g/cm³',
    inputmode: 'decimal',
    hint: 'In the place of the table’s; of a blend, say.',
  },
  packing: { label: 'Spun as', options: labelled(PACKING_RANGES) },
  contraction: {
    label: 'Plying took up, %',
    inputmode: 'decimal',
    hint: 'Of the length of the strands, where you measured it.',
  },
  turns: { label: 'Turns in a metre', inputmode: 'decimal', hint: 'Of the last twist, where you counted them.' },
  threadsPx: { label: 'Across the threads, pixels', inputmode: 'decimal' },
  threads: {
    label: 'Threads side by side',
    inputmode: 'numeric',
    hint: 'One, where it is left empty; more are surer.',
  },
  scalePx: { label: 'Along the scale, pixels', inputmode: 'decimal' },
  scaleMm: { label: 'Which is, mm', inputmode: 'decimal' },
  wraps: { label: 'Wraps', inputmode: 'numeric' },
  over: { label: 'Along, mm', inputmode: 'decimal' },
  kind: {
    label: 'Wrapped yarn',
    options: [
      ['worsted', 'combed wool'],
      ['woollen', 'carded wool'],
      ['silk', 'silk'],
      ['cotton', 'cotton'],
    ],
  },
}

/** @param query what was asked; nothing yet when it names no count */
export function reckonPage(
  query: Readonly<Record<string, unknown>>,
  densities: readonly FibreDensity[],
): { page: ReckonPage; status: 200 | 422 } {
  const isAsked = query.count !== undefined
  const entered = enteredOf(query)
  const form = isAsked ? readReckonForm(query, densities) : undefined
  const fibre = { ...SPECS.fibre, options: densities.map((one) => [one.fibre, one.label] as const) }
  const fields = formFields({ ...SPECS, fibre }, entered, form && !form.ok ? form.problems : {})
  const asked = form && !form.ok ? form.asked : undefined
  const density = form?.ok ? densityOf(form.value, densities) : undefined
  const yarn = form?.ok ? yarnOf(form.value, density!) : undefined
  const page: ReckonPage = {
    ...{ title: 'Reckon a yarn', section: 'yarns', fields, problems: problemList(fields) },
    readings: (asked?.readings ?? []).map(({ sentence }, at) => ({
      href: `/yarns/reckon?${new URLSearchParams({ ...entered, reading: String(at) }).toString()}`,
      sentence,
    })),
    sentences: form?.ok ? form.value.strands.map(({ sentence }) => sentence) : [],
    figures: form?.ok && yarn ? figuresOf(form.value, yarn, density!) : [],
    systems: (yarn?.counts ?? []).map(({ label, definition, whole, single }) => ({
      ...{ label, definition, whole: toSignificant(whole, 4) },
      single: single === undefined ? '' : toSignificant(single, 4),
    })),
    hasSingles: yarn?.counts.some(({ single }) => single !== undefined) ?? false,
    wrapped: form?.ok && form.value.wraps ? wrappedOf(form.value.wraps) : [],
    photographed: form?.ok && form.value.photo ? photographedOf(form.value, form.value.photo, density!) : [],
  }
  return { page, status: form && !form.ok ? 422 : 200 }
}

/** As typed in the place of the table's, or the table's. */
function densityOf({ fibre, density }: Reckoning, densities: readonly FibreDensity[]): Density {
  const known = findDensity(densities, fibre)!
  if (density === undefined) return toDensity(known)
  return toDensity({ ...known, low: density, high: density, source: 'typed below', isOwn: false })
}

function yarnOf(asked: Reckoning, density: Density): ReckonedYarn | undefined {
  if (asked.strands.length === 0) return undefined
  const packing = PACKING_RANGES[asked.packing]
  return reckonYarn(asked.strands, { ...asked, density, packing })
}

function figuresOf(asked: Reckoning, yarn: ReckonedYarn, density: Density): Figure[] {
  const { diameter, contraction, nominalTex, tex } = yarn
  const packing = PACKING_RANGES[asked.packing]
  const { strands } = yarn
  return [
    {
      name: 'The whole yarn',
      value: `${toSignificant(tex, 4)} tex`,
      rests:
        contraction === undefined
          ? strands === 1
            ? 'Grams in 1000 m, by the count.'
            : `${strands} strands together; what plying takes up is not in it.`
          : `${toSignificant(nominalTex, 4)} tex of the strands / (1 - ${toSignificant(contraction, 3)}), for plying took up ${toSignificant(100 * contraction, 3)} %.`,
    },
    {
      name: '100 g are',
      value: `${toSignificant(yarn.mPer100g, 4)} m`,
      rests: `100 000 / ${toSignificant(tex, 4)} tex.`,
    },
    {
      name: 'Diameter',
      value: toStatedValue({ value: diameter.diameterMm, u: diameter.u, unit: 'mm' }).text,
      rests: `Of a round thread of ${density.from}, ${packing.low} to ${packing.high} of it fibre (from memory). From ${toSignificant(diameter.lowMm, 3)} to ${toSignificant(diameter.highMm, 3)} mm; ± is one standard uncertainty, of the packing${density.low < density.high ? ' and the density' : ' alone'}.`,
    },
    {
      name: 'Side by side',
      value: `${toSignificant(yarn.wrapsPerCm, 3)} in a cm`,
      rests: `10 mm / ${toSignificant(diameter.diameterMm, 3)} mm, just touching; an estimate.`,
    },
    ...(yarn.twist ? twistFigures(yarn.twist, diameter.diameterMm) : []),
  ]
}

function twistFigures(
  { turnsPerM, angle, factor, retraction, contractionFactor }: ReckonedTwist,
  diameterMm: number,
): Figure[] {
  return [
    {
      name: 'Twist angle',
      value: `${toSignificant(angle, 3)}°`,
      rests: `tan of it is pi x ${toSignificant(diameterMm, 3)} mm x ${toSignificant(turnsPerM, 4)} turns in a metre.`,
    },
    {
      name: 'Twist factor',
      value: `${toSignificant(factor, 3)} turns/cm x root tex`,
      rests: 'Alike for yarns of like twist angle and packing.',
    },
    {
      name: 'So much twist takes up',
      value: `${toSignificant(100 * retraction, 2)} % of the length`,
      rests: `tan² of half the angle, a model of the helix (from memory); length before / after is ${toSignificant(contractionFactor, 4)}.`,
    },
  ]
}

function photographedOf({ packing }: Reckoning, reading: PhotoReading, density: Density): Figure[] {
  const { threadsPx, threads, scalePx, scaleMm } = reading
  const { diameterMm, u } = diameterFromPhoto(reading)
  const { low, high, label } = PACKING_RANGES[packing]
  const texAt = (gPerCm3: number, share: number) => toSignificant(texFromDiameter(diameterMm, gPerCm3, share), 3)
  return [
    {
      name: 'Diameter by the scale',
      value: toStatedValue({ value: diameterMm, u, unit: 'mm' }).text,
      rests: `${threadsPx} pixels / ${threads} ${threads === 1 ? 'thread' : 'threads'} x ${scaleMm} mm / ${scalePx} pixels; ± is one standard uncertainty, of putting each end to ${EDGE_PX} pixel either way. That the scale lies as deep as the threads, and nothing is seen aslant, is taken for granted.`,
    },
    {
      name: 'A yarn as thick',
      value: `${texAt(density.gPerCm3, (low + high) / 2)} tex, ${texAt(density.low, low)} to ${texAt(density.high, high)}`,
      rests: `A round thread of ${density.from}, as ${label}: ${low} to ${high} of it fibre, from memory. On a plan, the thread claimed of an original is set against every lot of the shelf.`,
    },
  ]
}

function wrappedOf({ count, overMm, kind }: NonNullable<Reckoning['wraps']>): Figure[] {
  const perCm = (10 * count) / overMm
  return [
    {
      name: 'Diameter by wraps',
      value: `${toSignificant(diameterFromWraps(count, overMm), 3)} mm`,
      rests: `${overMm} mm / ${count}, just touching; how tightly it was wrapped changes it more than the yarn does.`,
    },
    {
      name: 'Weight by wraps',
      value: `about ${toSignificant(texFromWraps(perCm, kind), 2)} tex`,
      rests:
        'Wraps packed until no more go in: (wraps in an inch with the allowance of the yarn)² yards in a pound. A spinner’s rule, a weak source; good to perhaps a third either way.',
    },
  ]
}
