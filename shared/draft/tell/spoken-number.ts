import { requireWhole } from '../../measure/argument.ts'

const SMALL =
  'zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen'.split(
    ' ',
  )
const TENS = ['', '', 'twenty', 'thirty', 'forty', 'fifty', 'sixty', 'seventy', 'eighty', 'ninety']

/**
 * A whole number as it is said, without “and”; tens and ones are one word.
 * @param value 1 to 999,999
 * @throws RangeError when value is no whole number in that range
 * @example sayNumber(24) // 'twenty-four'; sayNumber(1320) // 'one thousand three hundred twenty'
 */
export function sayNumber(value: number): string {
  if (requireWhole('value', value, 1) > 999_999) throw new RangeError(`value must be at most 999999, not ${value}`)
  const words: string[] = []
  if (value >= 1000) words.push(sayNumber(Math.floor(value / 1000)), 'thousand')
  const hundreds = Math.floor((value % 1000) / 100)
  if (hundreds > 0) words.push(SMALL[hundreds]!, 'hundred')
  const rest = value % 100
  if (rest >= 20) words.push(TENS[Math.floor(rest / 10)]! + (rest % 10 > 0 ? `-${SMALL[rest % 10]!}` : ''))
  else if (rest > 0) words.push(SMALL[rest]!)
  return words.join(' ')
}

/**
 * How many words a number takes when it is said.
 * @example countNumberWords(24) // 1; countNumberWords(320) // 3
 */
export function countNumberWords(value: number): number {
  return sayNumber(value).split(' ').length
}

const VALUES = new Map<string, number>()
for (let value = 1; value < 100; value++) VALUES.set(sayNumber(value), value)

/**
 * Reads a number at the beginning of a list of words, as far as it goes; figures are taken as well.
 * @param words lower case
 * @param at where to begin, from 0
 * @returns the number and where the next word stands; undefined when no number stands there
 * @example readNumber(['three', 'hundred', 'twenty', 'forward'], 0) // { value: 320, next: 3 }
 * @example readNumber(['14', 'picks'], 0) // { value: 14, next: 1 }
 */
export function readNumber(words: readonly string[], at: number): { value: number; next: number } | undefined {
  const first = words[at]
  if (first === undefined) return undefined
  if (/^[1-9]\d{0,5}$/.test(first)) return { value: Number(first), next: at + 1 }
  let [next, thousands, below] = [at, 0, 0]
  // Each part may come once and in falling order: what comes after is the next thing said.
  let [hasThousand, hasHundred, hasRest] = [false, false, false]
  for (; next < words.length; next++) {
    const word = words[next]!
    const value = VALUES.get(word)
    if (value !== undefined && !hasRest) [below, hasRest] = [below + value, true]
    else if (word === 'hundred' && hasRest && !hasHundred && below < 10) {
      ;[below, hasHundred, hasRest] = [below * 100, true, false]
    } else if (word === 'thousand' && (hasRest || hasHundred) && !hasThousand) {
      ;[thousands, below, hasThousand, hasHundred, hasRest] = [below * 1000, 0, true, false, false]
    } else break
  }
  return next === at ? undefined : { value: thousands + below, next }
}
