import { PACKING_RANGES } from '../yarn/diameter-range.ts'
import type { PlanFacts } from './facts.ts'
import type { PlanWants } from './read-plan.ts'
import { sayCm, sayLearned, sayMm, sayNumber, sayPercent, sayTex } from './say.ts'
import { type PlanFigures, USUAL_TAKE_UP } from './work-out.ts'

/** One thing that a plan rests on, with the field that changes it. */
export interface Assumption {
  readonly label: string
  readonly text: string
  readonly field: string
}

/** What the numbers rest on, in the order in which they use it. */
export function listAssumptions(wants: PlanWants, facts: PlanFacts, figures: PlanFigures): Assumption[] {
  const { picksPerCm, warpYarn, weft } = figures
  const spun = PACKING_RANGES[wants.spun]
  return [
    {
      label: 'Take-up',
      text: sayTakeUp(wants, facts, figures),
      field: wants.takeUpBy === 'typed' ? 'takeUpPercent' : 'takeUpBy',
    },
    {
      label: 'Picks per cm',
      text: picksPerCm ? `${sayNumber(picksPerCm.value)}, ${picksPerCm.from}` : 'not known',
      field: 'picksPerCm',
    },
    { label: 'Loom waste', text: `${sayCm(wants.wasteMm)}, both ends together, not woven`, field: 'wasteCm' },
    {
      label: 'Sample',
      text: `${sayCm(wants.sampleMm)} woven before it counts; it takes up as the band does`,
      field: 'sampleCm',
    },
    { label: 'Fringe', text: `${sayCm(wants.fringeMm)}, both ends together`, field: 'fringeCm' },
    {
      label: 'Shrinkage in finishing',
      text: wants.shrinkPercent === 0 ? 'none' : `${sayPercent(wants.shrinkPercent)} of the length before it`,
      field: 'shrinkPercent',
    },
    {
      label: 'Warp thread',
      text: warpYarn?.isMeasured
        ? `${sayTex(warpYarn.tex)}, ${sayMm(warpYarn.diameter.diameterMm)} thick as measured on the yarn; how sure that is, is not said`
        : warpYarn
          ? `${sayTex(warpYarn.tex)}, so ${sayMm(warpYarn.diameter.diameterMm)} thick (${sayMm(warpYarn.diameter.lowMm)} to ${sayMm(warpYarn.diameter.highMm)}) as ${spun.label}: ${sayNumber(spun.low)} to ${sayNumber(spun.high)} of it is fibre, from memory; ${warpYarn.density.from}`
          : 'no yarn whose tex is known',
      field: 'spun',
    },
    {
      label: 'Fibre',
      text: `${wants.density.from}, where the yarn does not say otherwise`,
      field: 'fibre',
    },
    {
      label: 'Width of the band',
      text: weft ? `${sayMm(weft.widthMm)}, ${weft.widthFrom}` : 'not known',
      field: 'widthMm',
    },
    {
      label: 'Weft',
      text: `${wants.weftStrands === 1 ? 'one strand' : `${wants.weftStrands} strands together`}, ${wants.weftPasses === 1 ? 'once across a pick' : 'twice across a pick'}, ${sayPercent(wants.weftAllowance)} more for what is drawn in and for the ends`,
      field: 'weftAllowance',
    },
  ]
}

function sayTakeUp(wants: PlanWants, facts: PlanFacts, { takeUp, measuredTakeUp }: PlanFigures): string {
  const { by, percent, typed, perTablet, ratio, settled } = takeUp
  const own = ratio
    ? `Own finished pieces took up ${sayNumber(ratio.mean)} times what geometry says of them (${sayLearned(ratio)}: ${facts.takeUpRatios.map(({ piece }) => piece).join(', ')})`
    : 'No finished piece of your own has been measured yet (n = 0)'
  const grams = settled
    ? ` By the grams that were settled it was ${sayNumber(settled.mean)} times (${sayLearned(settled)})${by === 'settled' ? ', so that is taken' : ', which is not taken unless you choose it'}.`
    : wants.takeUpBy === 'settled'
      ? ' No piece is settled yet (n = 0), so nothing is taken from that.'
      : ''
  const measured =
    measuredTakeUp === null ? '' : ` This piece took up ${sayPercent(measuredTakeUp)} of the woven length.`
  if (by === 'typed' && typed)
    return `${sayPercent(typed.percent)} of the ${typed.of === 'woven' ? 'woven length' : 'warp'}, as typed${typed.of === 'warp' ? `, which is ${sayPercent(percent)} of the woven length` : ''}. ${own}.${grams}${measured}`
  if (by === 'usual')
    return `${sayPercent(USUAL_TAKE_UP.percent)} of the woven length: common practice, no source, until the warp yarn and the picks per cm are known.${measured}`
  const most = Math.max(...perTablet)
  const mean = perTablet.reduce((sum, one) => sum + one, 0) / perTablet.length
  const geometry = `by the geometry of the cords ${sayPercent(most)} for the tablets that turn most and ${sayPercent(mean)} as the mean of ${perTablet.length} tablets; all ends are wound as long as the longest need`
  const factor = by === 'corrected' ? ratio : by === 'settled' ? settled : null
  return `${sayPercent(percent)} of the woven length${factor ? ` (${sayPercent(most)} × ${sayNumber(factor.mean)})` : ''}: ${geometry}. ${own}.${grams}${measured}`
}
