import { type PickAlphabet, WAY_FROM_END, WAYS } from './pick-alphabet.ts'

/** A stretch of picks, counted from 0; `to` is the pick after its last. */
export interface Stretch {
  readonly from: number
  readonly to: number
}

/** A stretch of the repeat that is spelled by itself: where it begins, and the words that it takes to reach each pick. */
export interface SpelledSection {
  readonly from: number
  readonly reach: Float64Array
}

/** How many (place, length) pairs are looked at. Our own bound, by measuring. */
const MOST_PAIRS = 80_000
/** Of stretches of one length only so many are handed out, or one good one and its neighbours would fill the list. */
const MOST_OF_LENGTH = 4
/** “the wave” and its “then”; a way to take it costs about as much again, which is found out when it is tried. */
const WORDS_OF_USE = 3
const WORDS_OF_HEADING = 3

/**
 * Gathers the stretches of a repeat that come again in any of the eight ways, by a number that is the same for all of
 * them. Two different stretches may by bad luck get one number; that costs time, never truth, for whoever tries a stretch
 * looks again where it really stands.
 */
export function listStretches(alphabet: PickAlphabet) {
  const groups: Int32Array[] = []
  const lengths: number[] = []
  for (const length of lengthsFor(alphabet.ring.length)) {
    const found = placesOf(alphabet, length)
    // Where nothing of this length comes again, nothing longer does.
    if (found.length === 0) break
    for (const places of found) {
      groups.push(places)
      lengths.push(length)
    }
  }
  return {
    /** Those that promise to save the most words, best first. */
    mostPromising(sections: readonly SpelledSection[], most: number): Stretch[] {
      const promises = groups
        .map((places, at) => ({ places, length: lengths[at]!, saved: promiseOf(places, lengths[at]!, sections) }))
        .filter(({ saved }) => saved > 0)
        .sort((a, b) => b.saved - a.saved)
      const ofLength = new Map<number, number>()
      const chosen = new Map<string, Stretch>()
      for (const { places, length } of promises) {
        const already = ofLength.get(length) ?? 0
        if (already >= MOST_OF_LENGTH) continue
        ofLength.set(length, already + 1)
        const wide = widen(alphabet, places[0]!, places[1]!, length)
        for (const stretch of [{ from: places[0]!, to: places[0]! + length }, wide]) {
          chosen.set(`${stretch.from} ${stretch.to}`, stretch)
        }
        if (chosen.size >= most) break
      }
      return [...chosen.values()]
    },
  }
}

/**
 * A stretch made as long as it and its second place go on alike to both sides, for not every length was looked at.
 * @returns the stretch as it is where the two turn out not to be alike
 */
function widen({ ring, images }: PickAlphabet, first: number, second: number, length: number): Stretch {
  const gap = second - first
  for (let way = 0; way < WAYS; way++) {
    const image = images[way & 3]!
    const fromEnd = (way & WAY_FROM_END) > 0
    // Where the pick that is `step` after the first of the stretch lies in its second place.
    const placeOf = (step: number) => (fromEnd ? second + length - 1 - step : second + step)
    const isAlike = (step: number) => {
      const [one, other] = [ring[first + step], ring[placeOf(step)]]
      return one !== undefined && other !== undefined && image[one] === other
    }
    let [left, right] = [0, length]
    if (!Array.from({ length }, (_, step) => step).every(isAlike)) continue
    // Neither may grow into the other: both grow at once, so the gap between them shrinks from one or both sides.
    const isApart = () => (fromEnd ? first + right < placeOf(right) + 1 : right - left < gap)
    while (isApart() && isAlike(right)) right++
    while ((fromEnd || right - left < gap) && isAlike(left - 1)) left--
    return { from: first + left, to: first + right }
  }
  return { from: first, to: first + length }
}

/** All lengths while they are few enough, then each about a tenth longer than the one before. */
function lengthsFor(picks: number): number[] {
  const longest = picks >> 1
  const all = Math.max(8, Math.floor(MOST_PAIRS / picks))
  const lengths: number[] = []
  for (let length = 1; length <= longest; length = length < all ? length + 1 : Math.ceil(length * 1.1)) {
    lengths.push(length)
  }
  if (longest > 0 && lengths.at(-1) !== longest) lengths.push(longest)
  return lengths
}

/** What a section would save if the stretch had a name: its words at every place but one, less those of the uses. */
function promiseOf(places: Int32Array, length: number, sections: readonly SpelledSection[]): number {
  let [saved, dearest] = [0, 0]
  for (const { from, reach } of sections) {
    const end = from + reach.length - 1
    let free = from
    for (const place of places) {
      if (place < free || place + length > end) continue
      const words = reach[place - from + length]! - reach[place - from]!
      if (words <= WORDS_OF_USE) continue
      dearest = Math.max(dearest, words)
      saved += words - WORDS_OF_USE
      free = place + length
    }
  }
  return saved - dearest - WORDS_OF_HEADING
}

// Primes whose products stay exact; the second sieve makes an accidental meeting of two stretches rare.
const PRIMES = [67_108_859, 67_108_837] as const
const BASES = [262_147, 131_101] as const

/** Places of every stretch of one length that comes at least twice, however taken. */
function placesOf({ ring, images }: PickAlphabet, length: number): Int32Array[] {
  const n = ring.length
  const keys = new Float64Array(n - length + 1).fill(Infinity)
  for (let way = 0; way < WAYS; way++) {
    const image = images[way & 3]!
    const sums = PRIMES.map((prime, at) =>
      rollingSums(ring, image, length, (way & WAY_FROM_END) > 0, prime, BASES[at]!),
    )
    for (let place = 0; place < keys.length; place++) {
      // Infinity, and so never the smallest, where a pick of the stretch has no such image in this repeat.
      const key = sums[0]![place]! * PRIMES[1] + sums[1]![place]!
      if (key < keys[place]!) keys[place] = key
    }
  }
  const groups = new Map<number, number[]>()
  keys.forEach((key, place) => {
    const group = groups.get(key)
    if (group) group.push(place)
    else groups.set(key, [place])
  })
  return [...groups.values()].filter((places) => places.length > 1).map((places) => Int32Array.from(places))
}

/** A number for every stretch of that length, read from its beginning or its end, in one pass. */
function rollingSums(
  ring: Int32Array,
  image: Int32Array,
  length: number,
  fromEnd: boolean,
  prime: number,
  base: number,
): Float64Array {
  const n = ring.length
  const at = (index: number) => image[ring[fromEnd ? n - 1 - index : index]!]! + 2
  const sums = new Float64Array(n - length + 1)
  let missing = 0
  let top = 1
  for (let step = 1; step < length; step++) top = (top * base) % prime
  let sum = 0
  for (let index = 0; index < n; index++) {
    if (index >= length) {
      const gone = at(index - length)
      if (gone === 1) missing--
      sum = (sum + prime - ((gone * top) % prime)) % prime
    }
    if (at(index) === 1) missing++
    sum = (sum * base + at(index)) % prime
    if (index >= length - 1) {
      const place = index - length + 1
      sums[fromEnd ? n - length - place : place] = missing > 0 ? Infinity : sum
    }
  }
  return sums
}
