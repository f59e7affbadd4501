import type { Draft } from '../draft.ts'
import { longestFloat } from '../floats.ts'
import { listPacks } from '../packs.ts'
import { closesAfter, isTwistNeutral } from '../twist.ts'
import { weave } from '../weave.ts'
import type { Turning, Woven } from '../woven.ts'
import { chooseFlips } from './flip-choice.ts'
import { shortestBlocks, type TurnedBlock } from './turned-block.ts'

/** What a change does to the cloth, found by weaving both and holding them side by side. */
export interface ClothEffect {
  /** Cells that were compared: picks x tablets. */
  readonly cells: number
  /** Cells of the face whose colour changes, and stitches that lean the other way. */
  readonly colours: number
  readonly slants: number
  /** Longest floats before and after, woven again and again; Infinity where a thread never changes side. */
  readonly floatBefore: { readonly face: number; readonly reverse: number }
  readonly floatAfter: { readonly face: number; readonly reverse: number }
  /** After how many repeats the changed draft closes. */
  readonly closesAfter: 1 | 2 | 4
}

export type NeutralOffer =
  /** Turn blocks of picks the other way. Neutral in every repeat. */
  | { readonly kind: 'block'; readonly blocks: readonly TurnedBlock[]; readonly effect: ClothEffect }
  /** Turn some tablets the other way in every second repeat. Neutral after two; the effect is over both. */
  | { readonly kind: 'everySecond'; readonly tablets: readonly number[]; readonly effect: ClothEffect }
  /** Thread some tablets the other way. Takes twist from no tablet; S and Z twist of the band then weigh the same. */
  | { readonly kind: 'flip'; readonly tablets: readonly number[]; readonly effect: ClothEffect }

export interface TwistOffers {
  readonly neutral: boolean
  /** Quarter turns that S-twist in the bare warp outweighs Z-twist by, all tablets added up; Z outweighs when negative. */
  readonly balance: number
  readonly offers: readonly NeutralOffer[]
}

/**
 * The shortest changes that would leave no twist behind, or spread it evenly. Nothing is applied. Each offer has been
 * woven: a block or every second repeat really is neutral, and `effect` counts what it does to the face.
 * @returns no offers for a neutral draft
 * @throws RangeError when the turning is for another number of tablets
 * @example one tablet, F F F F: turn picks 3, 4 the other way; or every second repeat
 * Source: our own. That turning a tablet over about its upright axis and going on is the same as turning it the other way
 * is common practice, no source; `tests/tell/neutral.test.ts` follows four corners to show it.
 */
export function offerNeutral(draft: Draft, turning: Turning): TwistOffers {
  const before = weave(draft, turning)
  const weights = draft.tablets.map(({ threading }, at) => (threading === 'S' ? 1 : -1) * before.net[at]!)
  const balance = weights.reduce((sum, weight) => sum + weight, 0)
  if (isTwistNeutral(before)) return { neutral: true, balance, offers: [] }
  const offers: NeutralOffer[] = []
  const packs = listPacks(turning).filter(([first]) => before.net[first! - 1] !== 0)
  for (const blocks of shortestBlocks(turning, packs)) {
    const changed = turnBlocks(turning, blocks)
    const woven = weave(draft, changed)
    if (!isTwistNeutral(woven)) throw new Error('A block that was offered does not make the draft neutral')
    offers.push({ kind: 'block', blocks, effect: compareCloth(draft, before, draft, woven) })
  }
  const tablets = packs.flat().sort((a, b) => a - b)
  const twice = twoRepeats(turning)
  const second = { tablets, from: turning.picks + 1, to: 2 * turning.picks }
  const turned = weave(draft, turnBlocks(twice, [second]))
  offers.push({ kind: 'everySecond', tablets, effect: compareCloth(draft, weave(draft, twice), draft, turned) })
  const flips = chooseFlips(weights)
  if (flips !== undefined && flips.length > 0) {
    const flipped = flipThreading(draft, flips)
    offers.push({ kind: 'flip', tablets: flips, effect: compareCloth(draft, before, flipped, weave(flipped, turning)) })
  }
  return { neutral: false, balance, offers }
}

/**
 * The turning with blocks of picks turned the other way.
 * @example turnBlocks(one tablet F F F F, [{ tablets: [1], from: 3, to: 4 }]).turns // Int8Array [1, 1, -1, -1]
 */
export function turnBlocks(turning: Turning, blocks: readonly TurnedBlock[]): Turning {
  const turns = turning.turns.slice()
  for (const { tablets, from, to } of blocks) {
    for (let pick = from - 1; pick < to; pick++) {
      for (const tablet of tablets) {
        const cell = pick * turning.tablets + tablet - 1
        // Minus zero is no turn that anything else would know.
        turns[cell] = 0 - turns[cell]!
      }
    }
  }
  return { ...turning, turns }
}

/**
 * The draft with some tablets threaded the other way, S for Z.
 * @param tablets numbered from 1
 */
export function flipThreading(draft: Draft, tablets: readonly number[]): Draft {
  const flipped = new Set(tablets)
  return {
    ...draft,
    tablets: draft.tablets.map((tablet, at) =>
      flipped.has(at + 1) ? { ...tablet, threading: tablet.threading === 'S' ? 'Z' : 'S' } : tablet,
    ),
  }
}

function twoRepeats({ tablets, picks, turns }: Turning): Turning {
  const twice = new Int8Array(2 * turns.length)
  twice.set(turns)
  twice.set(turns, turns.length)
  return { tablets, picks: 2 * picks, turns: twice }
}

function compareCloth(draft: Draft, before: Woven, changed: Draft, after: Woven): ClothEffect {
  const { tablets } = before
  const colourOf = ({ tablets }: Draft, tablet: number, hole: number) => tablets[tablet]!.holes[hole] ?? null
  let [colours, slants] = [0, 0]
  for (let cell = 0; cell < before.face.length; cell++) {
    const tablet = cell % tablets
    if (before.slant[cell] !== after.slant[cell]) slants++
    if (colourOf(draft, tablet, before.face[cell]!) !== colourOf(changed, tablet, after.face[cell]!)) colours++
  }
  return {
    ...{ cells: before.face.length, colours, slants },
    floatBefore: longestFloat(draft, before, { overSeam: true }),
    floatAfter: longestFloat(changed, after, { overSeam: true }),
    closesAfter: closesAfter(after),
  }
}
