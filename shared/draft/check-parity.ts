import { type Check, type CheckPlace, fewPlaces, gatherPlaces } from './check-result.ts'
import { sayCount, sayListed, sayPicks } from './number-words.ts'
import { keepsParity } from './turn-habits.ts'
import type { Turning } from './woven.ts'

/** How many places the sentence names before it counts the rest. */
const MOST_NAMED = 6

const SO_COMPARE =
  'So two tablets that began equal or half a turn apart are never a quarter turn apart: if they are, one of them was ' +
  'turned too little or too much.'

/**
 * Whether tablets can be checked against each other while weaving, and where not. Stricter in words than `keepsParity`:
 * a pick at which all tablets idle or make a half turn breaks parity, but leaves them comparable.
 */
export function checkParity(turning: Turning): Check {
  if (keepsParity(turning)) {
    return { key: 'parity', verdict: 'good', text: `Every tablet makes a quarter turn at every pick. ${SO_COMPARE}` }
  }
  const { together, mixed } = sortEvenPicks(turning)
  if (mixed.length === 0) {
    const text =
      `At ${sayListed('pick', together)} all tablets idle or make a half turn; ` +
      `at every other pick each makes a quarter turn. ${SO_COMPARE}`
    return { key: 'parity', verdict: 'good', text: together.length === turning.picks ? ALWAYS_EVEN : text }
  }
  const places = listEvenPlaces(turning, new Set(mixed))
  const named = places
    .slice(0, MOST_NAMED)
    .map(({ tablets, from, to }) => `${sayListed('tablet', tablets)} at ${sayPicks(from, to)}`)
  if (places.length > MOST_NAMED) named.push(`and ${sayCount(places.length - MOST_NAMED, 'more place')}`)
  const text =
    `Some tablets idle or make a half turn while others make a quarter turn: ${named.join('; ')}. From ` +
    `pick ${mixed[0]} on two tablets may rightly stand a quarter turn apart, ` +
    'so a slip cannot be told by comparing them.'
  return { key: 'parity', verdict: 'note', text, places: fewPlaces(places) }
}

const ALWAYS_EVEN = `At every pick all tablets idle or make a half turn. ${SO_COMPARE}`

/** Picks from 1 at which every tablet makes an even number of quarter turns, and those at which only some do. */
function sortEvenPicks({ tablets, picks, turns }: Turning): { together: number[]; mixed: number[] } {
  const together: number[] = []
  const mixed: number[] = []
  for (let pick = 0; pick < picks; pick++) {
    let even = 0
    for (let cell = pick * tablets; cell < (pick + 1) * tablets; cell++) if (turns[cell]! % 2 === 0) even++
    if (even === tablets) together.push(pick + 1)
    else if (even > 0) mixed.push(pick + 1)
  }
  return { together, mixed }
}

function listEvenPlaces({ tablets, picks, turns }: Turning, among: ReadonlySet<number>): CheckPlace[] {
  const gathered = gatherPlaces()
  for (let tablet = 0; tablet < tablets; tablet++) {
    let from = -1
    for (let pick = 0; pick <= picks; pick++) {
      const isEven = pick < picks && turns[pick * tablets + tablet]! % 2 === 0 && among.has(pick + 1)
      if (isEven && from < 0) from = pick
      if (isEven || from < 0) continue
      gathered.add(tablet + 1, from + 1, pick)
      from = -1
    }
  }
  return gathered.list()
}
