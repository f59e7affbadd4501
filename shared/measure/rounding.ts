import { requireFinite, requireNotNegative, requireWhole } from './argument.ts'

/**
 * A number as decimal digits, rounded half away from zero on the digits that people see: 1.005 becomes 1.01, although
 * the machine holds a little less.
 * @param value a finite number
 * @param decimals digits after the point, -20 to 20; -1 rounds to tens
 * @returns plain digits without exponent, with every decimal asked for; never "-0"
 * @throws RangeError when the value is not finite or is 1e21 or more, or decimals is out of range
 * @example toDecimals(10.05762, 3) // '10.058'; toDecimals(1234, -2) // '1200'; toDecimals(1.005, 2) // '1.01'
 */
export function toDecimals(value: number, decimals: number): string {
  if (Math.abs(requireFinite('value', value)) >= 1e21) throw new RangeError(`value must be below 1e21, not ${value}`)
  if (!Number.isInteger(decimals) || Math.abs(decimals) > 20)
    throw new RangeError(`decimals must be a whole number from -20 to 20, not ${decimals}`)
  const { digits, exponent } = shortestDigits(Math.abs(value))
  // value = digits x 10^shift; what is wanted is a whole number of 10^-decimals.
  const shift = exponent - digits.length + 1 + decimals
  const whole =
    shift >= 0 ? BigInt(digits) * 10n ** BigInt(shift) : (BigInt(digits) * 2n + tens(-shift)) / (2n * tens(-shift))
  const sign = value < 0 && whole !== 0n ? '-' : ''
  if (decimals <= 0) return sign + (whole * tens(-decimals)).toString()
  const text = whole.toString().padStart(decimals + 1, '0')
  return `${sign}${text.slice(0, -decimals)}.${text.slice(-decimals)}`
}

/**
 * A number rounded to so many significant digits, in plain digits: for a ratio or a rate without an uncertainty of its own.
 * @param value a finite number
 * @param digits how many significant digits, 1 to 15
 * @returns plain digits; zero is "0"
 * @throws RangeError when the value is not finite or digits is out of range
 * @example toSignificant(1.53846, 3) // '1.54'; toSignificant(1234, 2) // '1200'; toSignificant(0, 3) // '0'
 */
export function toSignificant(value: number, digits: number): string {
  if (requireWhole('digits', digits, 1) > 15) throw new RangeError(`digits must be at most 15, not ${digits}`)
  if (requireFinite('value', value) === 0) return '0'
  // Rounding may carry into a new place: 9.99 to two digits is 10, not 10.0.
  const exponent = Number(
    Math.abs(value)
      .toExponential(digits - 1)
      .split('e')[1],
  )
  return toDecimals(value, digits - 1 - exponent)
}

/**
 * How many decimals an uncertainty is worth: those that keep two significant digits of it.
 * @param u a standard or expanded uncertainty, more than zero
 * @returns decimals, and `rounded`: the uncertainty to them. It is rounded to the nearest, unless that would understate it
 *   by more than 4 %; then up. The 4 % is our own reading of the rule; it gives every rounding that the document prints
 * @throws RangeError when u is zero, negative, not finite, or beyond 20 decimals
 * @example roundUncertainty(10.47) // 11 with 0 decimals; roundUncertainty(28.05) // 28; roundUncertainty(123) // 120 with -1
 * Source: JCGM 100:2008, 7.2.6.
 */
export function roundUncertainty(u: number): { decimals: number; rounded: string } {
  if (requireNotNegative('u', u) === 0) throw new RangeError('u must be more than zero, not 0')
  const [mantissa = '', power = ''] = u.toExponential(1).split('e')
  const nearest = Number(`${mantissa}e${power}`)
  const decimals = 1 - Number(power)
  if (nearest >= u * 0.96) return { decimals, rounded: toDecimals(nearest, decimals) }
  // Only 10 and 11 are coarse enough for this, so that one more has two digits as well.
  const up = Number(mantissa.replace('.', '')) + 1
  return { decimals, rounded: toDecimals(Number(`${up}e${-decimals}`), decimals) }
}

/** The digits and power of ten of the shortest decimal that is this number. */
function shortestDigits(value: number): { digits: string; exponent: number } {
  const [mantissa = '0', power = '0'] = value.toExponential().split('e')
  return { digits: mantissa.replace('.', ''), exponent: Number(power) }
}

function tens(power: number): bigint {
  return 10n ** BigInt(power)
}
