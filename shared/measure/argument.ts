/**
 * Refuses an argument that is not a finite number.
 * @param name what the argument is called, as it stands in the message
 * @param value any number
 * @returns the same number
 * @throws RangeError naming the argument and its value when it is NaN or infinite
 * @example requireFinite('widthMm', NaN) // throws "widthMm must be a finite number, not NaN"
 */
export function requireFinite(name: string, value: number): number {
  if (!Number.isFinite(value)) throw new RangeError(`${name} must be a finite number, not ${value}`)
  return value
}

/**
 * Refuses an argument that is not a finite number above zero.
 * @param name what the argument is called, as it stands in the message
 * @param value any number
 * @returns the same number
 * @throws RangeError naming the argument and its value when it is zero, negative, NaN or infinite
 * @example requirePositive('widthMm', 0) // throws "widthMm must be more than zero, not 0"
 */
export function requirePositive(name: string, value: number): number {
  if (requireFinite(name, value) <= 0) throw new RangeError(`${name} must be more than zero, not ${value}`)
  return value
}

/**
 * Refuses an argument that is not a finite number, zero or more.
 * @param name what the argument is called, as it stands in the message
 * @param value any number
 * @returns the same number
 * @throws RangeError naming the argument and its value when it is negative, NaN or infinite
 * @example requireNotNegative('u', -0.1) // throws "u must be zero or more, not -0.1"
 */
export function requireNotNegative(name: string, value: number): number {
  if (requireFinite(name, value) < 0) throw new RangeError(`${name} must be zero or more, not ${value}`)
  return value
}

/**
 * Refuses an argument that is not a whole number of at least a given size.
 * @param name what the argument is called, as it stands in the message
 * @param value any number
 * @param least the smallest number allowed
 * @returns the same number
 * @throws RangeError naming the argument and its value when it is below `least`, a fraction, NaN or infinite
 * @example requireWhole('n', 2.5, 1) // throws "n must be a whole number of at least 1, not 2.5"
 */
export function requireWhole(name: string, value: number, least: number): number {
  if (!Number.isSafeInteger(value) || value < least)
    throw new RangeError(`${name} must be a whole number of at least ${least}, not ${value}`)
  return value
}
