/** How often forecasts held: a share of n with its interval. */
export interface Calibration {
  readonly n: number
  readonly held: number
  /** 95 % interval of the share that holds in the long run; null under five forecasts, when nothing is claimed. */
  readonly interval: readonly [number, number] | null
  readonly tooShort: number
  readonly tooLong: number
}

export interface Kept {
  readonly low: number
  readonly high: number
  readonly actual: number
}

/** Under so many nothing is claimed. */
export const LEAST_CALIBRATED = 5
const Z = 1.959963984540054

/**
 * Past forecasts against what it took.
 * @param kept low and high end of each forecast and what it came to, all in one unit; an end counts as held
 * @example calibrationOf([{ low: 8, high: 12, actual: 12 }]) // n 1, held 1, interval null
 * Source: the interval of a share by E. B. Wilson, J. Am. Stat. Assoc. 22 (1927), 209 to 212; formula from memory.
 */
export function calibrationOf(kept: readonly Kept[]): Calibration {
  const n = kept.length
  const tooShort = kept.filter(({ high, actual }) => actual > high).length
  const tooLong = kept.filter(({ low, actual }) => actual < low).length
  const held = n - tooShort - tooLong
  return { n, held, tooShort, tooLong, interval: n < LEAST_CALIBRATED ? null : wilson(held, n) }
}

function wilson(held: number, n: number): [number, number] {
  const share = held / n
  const middle = share + (Z * Z) / (2 * n)
  const reach = Z * Math.sqrt((share * (1 - share)) / n + (Z * Z) / (4 * n * n))
  const by = 1 + (Z * Z) / n
  return [Math.max(0, (middle - reach) / by), Math.min(1, (middle + reach) / by)]
}
