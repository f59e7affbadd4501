import { type Check, type CheckPlace, fewPlaces, gatherPlaces } from './check-result.ts'
import type { Draft } from './draft.ts'
import { LONGEST_USUAL_FLOAT, longestFloat, visitFloats } from './floats.ts'
import { listHiddenThreads } from './hidden-threads.ts'
import { sayCount, sayListed, sayPicks } from './number-words.ts'
import type { Woven } from './woven.ts'

/** How many places a sentence names before it counts the rest. */
const MOST_NAMED = 4

/**
 * Floats longer than 3 picks within the repeat, with their places. Tablets that never turn are left to their own check.
 * @param still numbers of the tablets that never turn
 */
export function checkFloats(draft: Draft, woven: Woven, still: readonly number[]): Check {
  const { long, count, longest } = gatherLong(draft, woven, still, false)
  if (count === 0) {
    const { face, reverse } = longestFloat(draft, woven)
    const text =
      still.length > 0
        ? 'In the tablets that turn, no thread floats over more than 3 picks.'
        : `No thread floats over more than 3 picks: the longest is ${face} on the face and ${reverse} on the reverse.`
    return { key: 'floats', verdict: 'good', text }
  }
  const are = count === 1 ? '1 float is' : `${count} floats are`
  const text = `${are} longer than 3 picks, ${sayLongest(count, longest)}: ${sayPlaces(long)}.`
  return { key: 'floats', verdict: 'warn', text, places: fewPlaces(long) }
}

/** Floats longer than 3 picks that run from the end of one repeat into the next; undefined when there are none. */
export function checkSeam(draft: Draft, woven: Woven, still: readonly number[]): Check | undefined {
  const { long, count, longest } = gatherLong(draft, woven, still, true)
  if (count === 0) return undefined
  const run = count === 1 ? '1 float runs' : `${count} floats run`
  const text =
    `Where one repeat meets the next, ${run} over more than 3 picks, ${sayLongest(count, longest)}: ` +
    `${sayPlaces(long)}, counting on from pick ${woven.picks}.`
  return { key: 'seam', verdict: 'warn', text, places: fewPlaces(long) }
}

interface LongFloats {
  long: CheckPlace[]
  count: number
  longest: { face: number; reverse: number }
}

function gatherLong(draft: Draft, woven: Woven, still: readonly number[], overSeam: boolean): LongFloats {
  const places = gatherPlaces()
  const longest = { face: 0, reverse: 0 }
  const skipped = new Set(still)
  let count = 0
  visitFloats(draft, woven, { overSeam }, (tablet, _hole, onFace, from, length) => {
    if (length <= LONGEST_USUAL_FLOAT || skipped.has(tablet + 1)) return
    // Endless floats and floats inside the repeat are told of without the seam.
    if (overSeam && (length === Infinity || from + length <= woven.picks)) return
    const side = onFace ? 'face' : 'reverse'
    count++
    longest[side] = Math.max(longest[side], length)
    places.add(tablet + 1, from + 1, from + length, side)
  })
  return { long: places.list(), count, longest }
}

function sayLongest(count: number, { face, reverse }: { face: number; reverse: number }): string {
  const sides = [face > 0 ? `${face} on the face` : '', reverse > 0 ? `${reverse} on the reverse` : '']
  return (count === 1 ? '' : 'the longest ') + sides.filter((side) => side !== '').join(' and ')
}

function sayPlaces(places: readonly CheckPlace[]): string {
  const sidesOf = new Map<string, string[]>()
  for (const { tablets, from, to, side } of places) {
    const where = `${sayListed('tablet', tablets)} at ${sayPicks(from, to)}`
    sidesOf.set(where, [...(sidesOf.get(where) ?? []), side!])
  }
  const said = [...sidesOf].map(([where, sides]) => `${where} (${sides.sort().join(' and ')})`)
  const named = said.slice(0, MOST_NAMED)
  if (said.length > MOST_NAMED) named.push(`and ${sayCount(said.length - MOST_NAMED, 'more place')}`)
  return named.join('; ')
}

/** Threads that never show on the face, however often the repeat is woven; undefined when there are none. */
export function checkHidden(draft: Draft, woven: Woven, still: readonly number[]): Check | undefined {
  const skipped = new Set(still)
  const hidden = listHiddenThreads(draft, woven, 'face').filter(({ tablet }) => !skipped.has(tablet))
  if (hidden.length === 0) return undefined
  const holesOf = new Map<number, string>()
  for (const { tablet, hole } of hidden) holesOf.set(tablet, (holesOf.get(tablet) ?? '') + hole)
  const tabletsOf = new Map<string, number[]>()
  for (const [tablet, holes] of holesOf) tabletsOf.set(holes, [...(tabletsOf.get(holes) ?? []), tablet])
  const groups = [...tabletsOf].map(([holes, tablets]) => {
    return `${holes.length === 1 ? 'hole' : 'holes'} ${[...holes].join(', ')} of ${sayListed('tablet', tablets)}`
  })
  const never = hidden.length === 1 ? '1 thread never shows' : `${hidden.length} threads never show`
  const named = groups.slice(0, MOST_NAMED)
  if (groups.length > MOST_NAMED) named.push('and threads of other tablets')
  return { key: 'hidden', verdict: 'note', text: `${never} on the face: ${named.join('; ')}.` }
}
