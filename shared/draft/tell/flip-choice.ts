/** Table cells at most: the search grows with the number of tablets times all their twist. Our own bound. */
const MOST_CELLS = 4_000_000

/**
 * The fewest tablets to thread the other way so that S-twist and Z-twist of the whole band weigh the same.
 * @param weights net quarter turns a tablet, S-twist positive
 * @returns tablets numbered from 1, rising; empty when they weigh the same already; undefined when no choice does it, or
 *   the twist is so much that it is not looked for
 * @example chooseFlips([4, 4, 4, 4]) // [3, 4]; chooseFlips([4, 4, 4]) // undefined; chooseFlips([4, -4]) // []
 * Source: our own; a subset of a given sum with the fewest members, by dynamic programming.
 */
export function chooseFlips(weights: readonly number[]): number[] | undefined {
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  if (total === 0) return []
  if (total % 2 !== 0) return undefined
  const reach = weights.reduce((sum, weight) => sum + Math.abs(weight), 0)
  const width = 2 * reach + 1
  if ((weights.length + 1) * width > MOST_CELLS) return undefined
  // fewest[tablet * width + reach + sum]: members among the tablets before it that add up to the sum.
  const fewest = new Uint16Array((weights.length + 1) * width).fill(NONE)
  fewest[reach] = 0
  weights.forEach((weight, tablet) => {
    const [row, next] = [tablet * width, (tablet + 1) * width]
    for (let sum = 0; sum < width; sum++) {
      const members = fewest[row + sum]!
      if (members === NONE) continue
      if (members < fewest[next + sum]!) fewest[next + sum] = members
      if (members + 1 < fewest[next + sum + weight]!) fewest[next + sum + weight] = members + 1
    }
  })
  let sum = reach + total / 2
  if (fewest[weights.length * width + sum] === NONE) return undefined
  const chosen: number[] = []
  for (let tablet = weights.length; tablet > 0; tablet--) {
    const members = fewest[tablet * width + sum]!
    if (fewest[(tablet - 1) * width + sum] === members) continue
    chosen.unshift(tablet)
    sum -= weights[tablet - 1]!
  }
  return chosen
}

const NONE = 65_535
