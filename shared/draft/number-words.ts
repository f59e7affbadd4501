/**
 * Numbers in order as people list them, runs of three and more folded.
 * @param numbers whole numbers, rising
 * @param most how many runs are written out before the rest is counted
 * @example sayNumbers([1, 2, 5, 6, 7]) // '1, 2, 5 to 7'; sayNumbers([1, 3, 5, 7], 2) // '1, 3 and 2 more'
 */
export function sayNumbers(numbers: readonly number[], most = 12): string {
  const runs: string[] = []
  let said = 0
  while (said < numbers.length && runs.length < most) {
    let last = said
    while (numbers[last + 1] === numbers[last]! + 1) last++
    if (last - said < 2) last = said
    runs.push(last === said ? `${numbers[said]}` : `${numbers[said]} to ${numbers[last]}`)
    said = last + 1
  }
  const more = numbers.length - said
  return runs.join(', ') + (more > 0 ? ` and ${more} more` : '')
}

/**
 * A noun with its numbers: `tablet 3`, `tablets 3 to 9, 12`. The plural takes an s.
 * @example sayListed('pick', [4]) // 'pick 4'
 */
export function sayListed(noun: string, numbers: readonly number[]): string {
  return `${noun}${numbers.length === 1 ? '' : 's'} ${sayNumbers(numbers)}`
}

/**
 * A count with its noun, at most two decimals: `1 pick`, `72 picks`, `0.25 whole turns`. The plural takes an s.
 * @example sayCount(1, 'whole turn') // '1 whole turn'
 */
export function sayCount(count: number, noun: string): string {
  return `${Math.round(count * 100) / 100} ${noun}${count === 1 ? '' : 's'}`
}

/**
 * Picks from first to last: `pick 4`, `picks 4, 5`, `picks 4 to 9`.
 * @example sayPicks(4, 4) // 'pick 4'
 */
export function sayPicks(from: number, to: number): string {
  if (from === to) return `pick ${from}`
  return to === from + 1 ? `picks ${from}, ${to}` : `picks ${from} to ${to}`
}

/** The sentence with its first letter made a capital. */
export function startSentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}
