import { requirePositive, requireWhole } from './argument.ts'
import { roundUncertainty, toDecimals, toSignificant } from './rounding.ts'

/** A value with its uncertainty, rounded for people, in the parts a page may set apart. */
export interface StatedValue {
  /** `13.0`, to the decimals the uncertainty is worth. */
  readonly value: string
  /** `0.2`, the standard uncertainty, or k times it where k is given; null when there is none or it is 0. */
  readonly plusMinus: string | null
  readonly unit: string
  /** `k=2.26, n=10`, whichever of the two is known; empty without either. */
  readonly note: string
  /** All of it on one line: `13.0 ± 0.2 mm (k=2.26, n=10)`. */
  readonly text: string
}

/**
 * A value with its uncertainty to at most two significant digits, and the value to the same place.
 * @param given `value`; `u`, its standard uncertainty, null or left out when unknown, 0 when exact; `k`, the coverage factor:
 *   with it the number after ± is k u; `n`, how many readings; `unit`, as written after the number
 * @returns the parts and the whole line. Without u, or with u 0, the value keeps the digits it was given with
 * @throws RangeError when the value is not finite, u is negative, k is not above zero or n is not a whole number
 * @example toStatedValue({ value: 13.02, u: 0.088, k: 2.262157, n: 10, unit: 'mm' }).text // '13.02 ± 0.20 mm (k=2.26, n=10)'
 * @example toStatedValue({ value: 13.5, unit: 'mm' }).text // '13.5 mm'
 * Source: JCGM 100:2008, 7.2.2, 7.2.4, 7.2.6.
 */
export function toStatedValue(given: {
  readonly value: number
  readonly u?: number | null | undefined
  readonly k?: number | null | undefined
  readonly n?: number | null | undefined
  readonly unit?: string | undefined
}): StatedValue {
  const { value, u, k, n, unit = '' } = given
  if (typeof k === 'number') requirePositive('k', k)
  if (typeof n === 'number') requireWhole('n', n, 1)
  const isUncertain = typeof u === 'number' && u !== 0
  const rounded = isUncertain ? roundUncertainty(u * (k ?? 1)) : undefined
  const shown = rounded ? toDecimals(value, rounded.decimals) : toGivenDigits(value)
  const known = [
    rounded && typeof k === 'number' ? `k=${toSignificant(k, 3)}` : '',
    typeof n === 'number' ? `n=${n}` : '',
  ]
  const note = known.filter((part) => part !== '').join(', ')
  const line = [rounded ? `${shown} ± ${rounded.rounded}` : shown, unit, note && `(${note})`]
  return {
    value: shown,
    plusMinus: rounded?.rounded ?? null,
    unit,
    note,
    text: line.filter((part) => part !== '').join(' '),
  }
}

/**
 * The concise form: the standard uncertainty in brackets, in units of the last digits of the value.
 * @param value a finite number
 * @param u its standard uncertainty, more than zero
 * @returns as `100.02147(35)`; where the uncertainty is ten or more it stands in full, as `1230(120)`
 * @throws RangeError when the value is not finite or u is not above zero
 * @example toConcise(13.0213, 0.352) // '13.02(35)'; toConcise(12.3, 1.25) // '12.3(1.3)'
 * Source: JCGM 100:2008, 7.2.2, second form; the third form where the uncertainty spans the decimal point.
 */
export function toConcise(value: number, u: number): string {
  const { decimals, rounded } = roundUncertainty(u)
  const last = decimals > 0 && Number(rounded) < 1 ? rounded.replace(/^0\.0*/u, '') : rounded
  return `${toDecimals(value, decimals)}(${last})`
}

/**
 * A number with the digits it has, neither more nor fewer, in plain decimals.
 * @param value a finite number below 1e21
 * @returns plain digits, up to 20 decimals; a trailing zero that was typed is not in a number: keep the typed text for that
 * @throws RangeError when the value is not finite or too large
 * @example toGivenDigits(13.5) // '13.5'; toGivenDigits(1e-7) // '0.0000001'
 */
export function toGivenDigits(value: number): string {
  const [mantissa = '', power = ''] = value.toExponential().split('e')
  const decimals = (mantissa.split('.')[1]?.length ?? 0) - Number(power)
  return toDecimals(value, Math.min(20, Math.max(0, decimals)))
}
