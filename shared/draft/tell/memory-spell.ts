import { countNumberWords } from './spoken-number.ts'
import type { MemoryItem } from './memory-form.ts'
import { findWord } from './ring.ts'
import { type PickAlphabet, takenBy, WAY_FROM_END, WAYS, WORDS_OF_WAY } from './pick-alphabet.ts'

/** A stretch of the repeat that has a name, and where it stands in it, however taken. Picks are counted from 0. */
export interface NamedStretch {
  readonly from: number
  readonly to: number
  /** One bit a way (`takenBy`) for every pick at which it stands so. */
  readonly stands: Uint8Array
}

/** A stretch of the repeat spelled in the fewest words. */
export interface Spelling {
  /** Fewest words from the beginning of the stretch to each of its picks; every step counts its “then”. */
  readonly reach: Float64Array
  readonly words: number
  /** Which named stretches it uses. */
  readonly uses: ReadonlySet<NamedStretch>
  readonly steps: readonly Step[]
}

interface Step {
  readonly from: number
  readonly to: number
  readonly times: number
  /** Undefined for picks that are told. */
  readonly block: NamedStretch | undefined
  /** For a pick: the way in which the pick before is taken; 0 when it is told itself. */
  readonly way: number
}

/** So many picks or blocks running are tried at every count; longer runs only at their whole length. Our own bound. */
const MOST_TRIED = 48

/**
 * Finds where a stretch of the repeat stands in it, in each of the eight ways.
 * @param from first pick, counted from 0
 * @param to the pick after its last
 */
export function nameStretch({ ring, images }: PickAlphabet, from: number, to: number): NamedStretch {
  const stands = new Uint8Array(ring.length)
  for (let way = 0; way < WAYS; way++) {
    const word = ring.slice(from, to).map((symbol) => images[way & 3]![symbol]!)
    if (word.includes(-1)) continue
    if (way & WAY_FROM_END) word.reverse()
    for (const place of findWord(ring, word)) stands[place]! |= 1 << way
  }
  return { from, to, stands }
}

/**
 * Spells a stretch of the repeat in the fewest words that picks and the given blocks allow: dynamic programming over its
 * picks. A block that is not shorter than the stretch is passed over.
 * @param blocks the named stretches that may be used
 */
export function spell(
  alphabet: PickAlphabet,
  blocks: readonly NamedStretch[],
  from: number,
  to: number,
  isWhole = false,
): Spelling {
  const reach = new Float64Array(to - from + 1).fill(Infinity)
  const back = new Array<Step>(to - from + 1)
  reach[0] = 0
  const offer = (
    at: number,
    end: number,
    words: number,
    times: number,
    block: NamedStretch | undefined,
    way: number,
  ) => {
    const cost = reach[at - from]! + words + 1
    if (cost >= reach[end - from]!) return
    reach[end - from] = cost
    back[end - from] = { from: at, to: end, times, block, way }
  }
  const usable = blocks.filter((block) => isWhole || block.to - block.from < to - from)
  for (let at = from, runEnd = from; at < to; at++) {
    if (runEnd === at) while (runEnd < to && alphabet.ring[runEnd] === alphabet.ring[at]) runEnd++
    offerPicks(alphabet, at, from, runEnd, offer)
    for (const block of usable) offerBlock(block, at, to, offer)
  }
  const steps: Step[] = []
  for (let end = to; end > from; end = steps[0]!.from) steps.unshift(back[end - from]!)
  const uses = new Set(steps.flatMap(({ block }) => block ?? []))
  return { reach, words: reach[to - from]! - 1, uses, steps }
}

type Offer = (
  at: number,
  end: number,
  words: number,
  times: number,
  block: NamedStretch | undefined,
  way: number,
) => void

/** The pick that stands there, once or as often as it comes running; told itself, or as the one before seen otherwise. */
function offerPicks(
  { ring, words, images }: PickAlphabet,
  at: number,
  from: number,
  runEnd: number,
  offer: Offer,
): void {
  const symbol = ring[at]!
  let [cost, way] = [words[symbol]!, 0]
  for (let one = 1; one < 4 && at > from; one++) {
    if (images[one]![ring[at - 1]!] !== symbol || 2 + WORDS_OF_WAY[one]! >= cost) continue
    ;[cost, way] = [2 + WORDS_OF_WAY[one]!, one]
  }
  for (let end = at + 1; end <= runEnd; end = end - at < MOST_TRIED ? end + 1 : Math.max(end + 1, runEnd)) {
    const times = end - at
    offer(at, end, cost + (times === 1 ? 0 : countNumberWords(times) + 1), times, undefined, way)
  }
}

/** A block that stands there, once or as often as it comes running in the same way. */
function offerBlock(block: NamedStretch, at: number, to: number, offer: Offer): void {
  const { stands } = block
  const length = block.to - block.from
  for (let way = 0, ways = stands[at]!; ways > 0; way++, ways >>= 1) {
    if ((ways & 1) === 0) continue
    let times = 1
    for (let next = at + length; next <= to; next += length, times++) {
      const isLast = next + length > to || (stands[next]! & (1 << way)) === 0
      if (times <= MOST_TRIED || isLast) {
        const said = times === 1 ? 0 : times === 2 ? 1 : countNumberWords(times) + 1
        offer(at, next, said + 2 + WORDS_OF_WAY[way]!, times, block, way)
      }
      if (isLast) break
    }
  }
}

/**
 * The steps of a spelling as items of a form.
 * @param nameOf the name of each block that is used
 */
export function toItems(
  { rows, ring }: PickAlphabet,
  { steps }: Spelling,
  nameOf: ReadonlyMap<NamedStretch, string>,
): MemoryItem[] {
  return steps.map(({ from, times, block, way }) => {
    if (block) return { kind: 'block', times, name: nameOf.get(block)!, taken: takenBy(way) }
    if (way > 0) return { kind: 'same', times, taken: takenBy(way) }
    return { kind: 'pick', times, row: rows[ring[from]!]! }
  })
}
