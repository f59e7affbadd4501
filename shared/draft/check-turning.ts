import type { Check } from './check-result.ts'
import { sayCount, sayListed, startSentence } from './number-words.ts'
import { closesAfter, isTwistNeutral } from './twist.ts'
import type { Woven } from './woven.ts'

/** How many groups a check names before it counts the rest. */
const MOST_NAMED = 6

/** Twist-neutral, or which tablets are not and by how much. */
export function checkTwist(woven: Woven): Check {
  if (isTwistNeutral(woven)) {
    const text = 'Twist-neutral: in one repeat every tablet makes as many quarter turns forward as back.'
    return { key: 'twist', verdict: 'good', text }
  }
  const groups = new Map<number, number[]>()
  woven.net.forEach((net, tablet) => {
    if (net !== 0) groups.set(net, [...(groups.get(net) ?? []), tablet + 1])
  })
  const strongest = [...groups].sort(([a], [b]) => Math.abs(b) - Math.abs(a) || b - a)
  const sentences = strongest
    .slice(0, MOST_NAMED)
    .map(([net, tablets]) => `${startSentence(sayListed('tablet', tablets))}: ${sayTwist(net)}.`)
  const rest = strongest.slice(MOST_NAMED).flatMap(([, tablets]) => tablets)
  if (rest.length > 0) sentences.push(`Another ${sayCount(rest.length, 'tablet')} by less.`)
  return { key: 'twist', verdict: 'note', text: `Not twist-neutral. ${sentences.join(' ')}` }
}

/**
 * A net turn in words.
 * @param net quarter turns of one repeat, forward positive, not zero
 * @example sayTwist(72) // '72 quarter turns forward each repeat, 18 whole turns of twist in the bare warp'
 */
export function sayTwist(net: number): string {
  const quarters = `${sayCount(Math.abs(net), 'quarter turn')} ${net > 0 ? 'forward' : 'back'} each repeat`
  return `${quarters}, ${sayWholeTurns(net)} of twist in the bare warp`
}

/**
 * Quarter turns as whole turns: `18 whole turns`, `0.5 of a whole turn`.
 * @param net quarter turns, the sign left out of account
 * @example sayWholeTurns(-4) // '1 whole turn'
 */
export function sayWholeTurns(net: number): string {
  const turns = Math.abs(net) / 4
  return turns < 1 ? `${turns} of a whole turn` : sayCount(turns, 'whole turn')
}

/** After how many repeats every tablet is back at its starting hole. */
export function checkClosure(woven: Woven): Check {
  const repeats = closesAfter(woven)
  if (repeats === 1) {
    const text = `The pattern closes after one repeat of ${sayCount(woven.picks, 'pick')}: every tablet is back at its starting hole.`
    return { key: 'closure', verdict: 'good', text }
  }
  const away = [...woven.net.keys()].filter((tablet) => woven.net[tablet]! % 4 !== 0).map((tablet) => tablet + 1)
  const stand = away.length === 1 ? 'stands' : 'stand'
  const text =
    `The pattern closes only after ${repeats} repeats (${woven.picks * repeats} picks): after one, ` +
    `${sayListed('tablet', away)} ${stand} at another hole than at the start.`
  return { key: 'closure', verdict: 'note', text }
}

/** Tablets that never turn; undefined when there are none. */
export function checkStill(still: readonly number[], picks: number): Check | undefined {
  if (still.length === 0) return undefined
  const [turns, its] = still.length === 1 ? ['turns', 'its'] : ['turn', 'their']
  const text =
    `${startSentence(sayListed('tablet', still))} never ${turns}: ${its} threads stay above or below the weft ` +
    `through the whole repeat, and nothing binds them.`
  return { key: 'still', verdict: 'warn', text, places: [{ tablets: still, from: 1, to: picks }] }
}
