import { requireFinite } from './argument.ts'

/** Where the middle half of the values lies. */
export interface Quartiles {
  readonly low: number
  readonly median: number
  readonly high: number
  readonly n: number
}

/**
 * Median and quartiles, by linear interpolation between the values in order.
 * @param values one or more finite numbers of one unit
 * @returns in that unit, unrounded; of one value it is itself three times
 * @throws RangeError when there is none, or one is not finite
 * @example quartilesOf([1, 2, 3, 4]) // low 1.75, median 2.5, high 3.25, n 4
 * Source: R. J. Hyndman, Y. Fan, Am. Stat. 50 (1996) 361-365, definition 7.
 */
export function quartilesOf(values: readonly number[]): Quartiles {
  if (values.length === 0) throw new RangeError('values must hold at least one number, not 0')
  const sorted = values.map((value, index) => requireFinite(`values[${index}]`, value)).sort((a, b) => a - b)
  const at = (share: number) => {
    const place = (sorted.length - 1) * share
    const [below, above] = [sorted[Math.floor(place)] as number, sorted[Math.ceil(place)] as number]
    return below + (above - below) * (place - Math.floor(place))
  }
  return { low: at(0.25), median: at(0.5), high: at(0.75), n: sorted.length }
}
