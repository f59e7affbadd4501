import type { Check } from './check-result.ts'
import { sayWholeTurns } from './check-turning.ts'
import type { Draft } from './draft.ts'
import { sayListed, sayNumbers, startSentence } from './number-words.ts'
import { listPacks } from './packs.ts'
import type { Turning, Woven } from './woven.ts'

/**
 * Border tablets against pattern tablets: where they stand, whether they turn apart from the pattern, whether they
 * reverse with it, and where twist builds up.
 */
export function checkBorders(draft: Draft, turning: Turning, woven: Woven): Check {
  const borders = listPart(draft, 'border')
  const pattern = listPart(draft, 'pattern')
  if (borders.length === 0) {
    const text = 'No tablet is marked as border, so the edges are not looked at apart from the pattern.'
    return { key: 'borders', verdict: 'note', text }
  }
  if (pattern.length === 0) {
    return {
      key: 'borders',
      verdict: 'note',
      text: 'Every tablet is marked as border; there is no pattern to compare.',
    }
  }
  const findings = [
    findMisplaced(borders, pattern),
    findShared(draft, turning),
    findReversing(borders, pattern, turning, woven),
  ].filter((finding) => finding !== undefined)
  const verdict = findings.every((finding) => finding.isGood) ? 'good' : 'note'
  return { key: 'borders', verdict, text: findings.map(({ text }) => text).join(' ') }
}

interface Finding {
  readonly isGood: boolean
  readonly text: string
}

function listPart(draft: Draft, part: 'border' | 'pattern'): number[] {
  return draft.tablets.flatMap((tablet, at) => (tablet.part === part ? [at + 1] : []))
}

function findMisplaced(borders: readonly number[], pattern: readonly number[]): Finding | undefined {
  const inside = borders.filter((tablet) => tablet > pattern[0]! && tablet < pattern.at(-1)!)
  if (inside.length === 0) return undefined
  const [are, stand] = inside.length === 1 ? ['is', 'stands'] : ['are', 'stand']
  const text = `${startSentence(sayListed('tablet', inside))} ${are} marked as border but ${stand} among the pattern.`
  return { isGood: false, text }
}

/** Border tablets that are in one pack with pattern tablets. */
function findShared(draft: Draft, turning: Turning): Finding {
  const mixed = listPacks(turning).flatMap((pack) => {
    const edge = pack.filter((tablet) => draft.tablets[tablet - 1]!.part === 'border')
    return edge.length > 0 && edge.length < pack.length ? edge : []
  })
  if (mixed.length === 0) return { isGood: true, text: 'The border tablets turn apart from the pattern tablets.' }
  mixed.sort((a, b) => a - b)
  const turn = mixed.length === 1 ? 'turns' : 'turn'
  const text = `Border ${sayListed('tablet', mixed)} ${turn} exactly as pattern tablets do, through the whole repeat.`
  return { isGood: true, text }
}

function findReversing(
  borders: readonly number[],
  pattern: readonly number[],
  turning: Turning,
  woven: Woven,
): Finding {
  const ofBorders = listReversingPicks(turning, borders)
  const ofPattern = listReversingPicks(turning, pattern)
  if (ofBorders.size > 0) {
    const own = [...ofBorders].filter((pick) => !ofPattern.has(pick)).sort((a, b) => a - b)
    if (own.length === 0) return { isGood: true, text: 'They reverse only at picks where the pattern reverses too.' }
    return { isGood: true, text: `They reverse at picks of their own: ${sayNumbers(own)}.` }
  }
  if (ofPattern.size === 0) return { isGood: true, text: 'Neither border nor pattern reverses.' }
  const twisted = borders.filter((tablet) => woven.net[tablet - 1] !== 0)
  if (twisted.length === 0) return { isGood: true, text: 'The border does not turn at all while the pattern reverses.' }
  const amounts = new Set(twisted.map((tablet) => Math.abs(woven.net[tablet - 1]!)))
  const upTo = amounts.size > 1 ? 'up to ' : ''
  const isEdgeOnly = pattern.every((tablet) => woven.net[tablet - 1] === 0)
  const text =
    `The border turns steadily while the pattern reverses, so twist builds up ` +
    `${isEdgeOnly ? 'at the edges only' : 'at the edges as well as in the pattern'}: ` +
    `${upTo}${sayWholeTurns(Math.max(...amounts))} each repeat in ${sayListed('tablet', twisted)}. ` +
    'Turning the border the other way for as many picks takes it out again.'
  return { isGood: false, text }
}

/** The picks, from 1, at which any of these tablets turns the other way than at its last turn. */
function listReversingPicks({ tablets, picks, turns }: Turning, among: readonly number[]): Set<number> {
  const reversing = new Set<number>()
  const last = new Int8Array(tablets)
  for (let pick = 0; pick < picks; pick++) {
    for (const tablet of among) {
      const turn = turns[pick * tablets + tablet - 1]!
      if (turn * last[tablet - 1]! < 0) reversing.add(pick + 1)
      if (turn !== 0) last[tablet - 1] = turn
    }
  }
  return reversing
}
