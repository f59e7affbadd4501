import { BLANKS, labelOf } from '../../shared/measure/claim-word.ts'
import type { Feature } from '../../shared/measure/feature.ts'
import { summariseReadings, type ReadingSummary } from '../../shared/measure/reading-summary.ts'
import { roundUncertainty, toDecimals, toSignificant } from '../../shared/measure/rounding.ts'
import { toGivenDigits } from '../../shared/measure/stated-value.ts'
import { UNITS, type Unit } from '../../shared/measure/unit.ts'
import { readClaimReadings } from './claim-readings.ts'
import type { Claim } from './queries.ts'

/** A claim's value as a page shows it. */
export interface Figure {
  /** `13.0 mm`, `12 to 14 mm`, `not published`, or the words. */
  readonly main: string
  /** `n = 10`, `u = 0.2 mm`: what the figure rests on, a phrase each. */
  readonly details: readonly string[]
  /** `type A, from the scatter: 0.10 mm`: what the uncertainty of readings is made of. */
  readonly parts: readonly string[]
  readonly look: 'number' | 'words' | 'blank'
}

/** The value of a claim in the digits and the unit in which it was typed; only means are rounded. */
export function figureOf(claim: Claim, feature: Feature): Figure {
  switch (claim.kind) {
    case 'blank':
      return { main: claim.blank ? labelOf(BLANKS, claim.blank) : '', details: [], parts: [], look: 'blank' }
    case 'text':
      return { main: claim.words ?? '', details: [], parts: [], look: 'words' }
    case 'range':
      return { main: rangeOf(claim), details: [], parts: [], look: 'number' }
    case 'value': {
      const details = [
        claim.n === null ? '' : `n = ${claim.n}`,
        claim.u === null ? '' : sayUncertainty(claim.u, claim.unit, feature),
      ].filter(Boolean)
      return { main: withUnit(claim.value ?? '', claim.unit), details, parts: [], look: 'number' }
    }
    case 'readings':
      return readingsFigure(claim, feature)
  }
}

/** One line of it, for lists and for "corrects: …". */
export function figureLine(claim: Claim, feature: Feature): string {
  const { main, details } = figureOf(claim, feature)
  const known = details.filter((detail) => /^[nu] = /.test(detail) || detail === EXACT)
  return [main, known.length > 0 ? `(${known.join(', ')})` : ''].filter(Boolean).join(' ')
}

/** A number with its unit as it is written: `13.0 mm`, `25°`, a count alone. */
export function withUnit(number: string, unit: Unit | ''): string {
  const symbol = unit === '' ? '' : UNITS[unit].symbol
  return symbol === '°' ? `${number}°` : [number, symbol].filter(Boolean).join(' ')
}

function rangeOf({ low, high, unit }: Claim): string {
  if (low === null) return `at most ${withUnit(high ?? '', unit)}`
  if (high === null) return `at least ${withUnit(low, unit)}`
  return unit === 'deg' ? `${low}° to ${high}°` : `${low} to ${withUnit(high, unit)}`
}

const EXACT = 'exact'

/** What was counted, and counted alike, is not "0 uncertain" but exact; a length never is, whatever was typed. */
const sayUncertainty = (u: string, unit: Unit | '', { kind }: Feature) =>
  kind === 'count' && Number(u) === 0 ? EXACT : `u = ${withUnit(u, unit)}`

function readingsFigure(claim: Claim, feature: Feature): Figure {
  const { unit } = claim
  const readings = unit === '' ? undefined : readClaimReadings(claim, feature, unit)
  if (!readings) return { main: claim.readings ?? '', details: ['cannot be read as numbers'], parts: [], look: 'words' }
  const summary = summariseReadings(readings)
  const { n, mean, s, u } = summary
  // Without an uncertainty nobody knows what the last digits are worth: one reading, or several alike, stay as typed.
  const decimals = u ? roundUncertainty(u).decimals : undefined
  const shown =
    decimals !== undefined
      ? toDecimals(mean, decimals)
      : n === 1 || s === 0
        ? toGivenDigits(mean)
        : toSignificant(mean, 6)
  const details = [n === 1 ? 'one reading' : 'mean', `n = ${n}`]
  if (s !== null) details.push(`s = ${withUnit(s === 0 ? '0' : toSignificant(s, 2), unit)}`)
  details.push(
    u === null
      ? 'no uncertainty: one reading, and no resolution of the ruler'
      : sayUncertainty(roundPart(u), unit, feature),
  )
  return { main: withUnit(shown, unit), details, parts: partsOf(summary, unit), look: 'number' }
}

function partsOf({ uA, uB, u }: ReadingSummary, unit: Unit | ''): string[] {
  if (u === null) return []
  return [
    uA === null ? '' : `type A, from the scatter: ${withUnit(roundPart(uA), unit)}`,
    uB === null || uB === 0 ? '' : `type B, from the resolution: ${withUnit(roundPart(uB), unit)}`,
  ].filter(Boolean)
}

const roundPart = (part: number) => (part === 0 ? '0' : roundUncertainty(part).rounded)
