import type { BareWarp } from '../draft/twist-forecast.ts'
import { sayCount } from '../draft/number-words.ts'
import { listPacks } from '../draft/packs.ts'
import type { Draft } from '../draft/draft.ts'
import { bordersAhead, type BordersAhead } from './borders-ahead.ts'
import { aheadOf, nextInRepeat } from './place.ts'
import { runsOf, sayPacks, sayRuns, type Telling, type ToldRun, toReader, toReadersPacks } from './told-pick.ts'
import { type BorderWay, rowAt, type Weaving, weavingOf } from './weaving.ts'

/** Where the work stands, as the server knows it. */
export interface Standing {
  readonly uid: string
  readonly place: number
  /** On the server's clock. */
  readonly at: string
  readonly device: string
  readonly kind: string
}

/** All that the loom page is worked out from. It travels to the browser as JSON, and lies in the file to be taken along. */
export interface LoomFacts {
  readonly piece: { readonly uid: string; readonly name: string }
  readonly revision: { readonly id: number; readonly number: number; readonly title: string }
  readonly draft: Draft
  readonly way: BorderWay
  readonly reversals: readonly number[]
  readonly telling: Telling
  /** Picks that the plan wants; null where none is kept, or it does not say. */
  readonly goal: number | null
  readonly warp: BareWarp | null
  readonly latest: Standing | null
}

/** One pick of small type. */
export interface SmallPick {
  readonly number: string
  readonly runs: string
}

/** One place at the loom, in words. */
export interface LoomView {
  readonly place: number
  readonly runs: readonly ToldRun[]
  readonly side: string
  readonly packs: string
  readonly next: readonly SmallPick[]
  /** In the repeat, from 1. */
  readonly pick: number
  readonly pickWords: string
  readonly repeatWords: string
  readonly ahead: string
  readonly twist: string
  readonly reversal: string
  /** The borders turn the other way at this very pick. */
  readonly reversesNow: boolean
}

export interface Loom {
  readonly facts: LoomFacts
  readonly weaving: Weaving
  /** In the reader's numbers. */
  readonly packs: readonly (readonly number[])[]
}

/**
 * @throws RangeError when the draft's picks cannot be read
 */
export function loomOf(facts: LoomFacts): Loom {
  const weaving = weavingOf(facts.draft, facts.way, facts.reversals)
  const packs = toReadersPacks(listPacks(weaving.turning), weaving.turning.tablets, facts.telling)
  return { facts, weaving, packs }
}

/** What the page says when so many picks of the piece are woven. */
export function viewAt({ facts, weaving, packs }: Loom, place: number): LoomView {
  const { picks } = weaving.turning
  const { repeat, pick } = nextInRepeat(place, picks)
  const told = (at: number) => toReader(rowAt(weaving, at), facts.telling)
  const row = told(place)
  const { goal } = facts
  const borders = bordersAhead(weaving, place, facts.warp)
  return {
    ...{ place, pick, runs: runsOf(row), packs: sayPacks(row, packs), side: `from the ${facts.telling.from}` },
    next: [place + 1, place + 2].map((at) => ({
      number: String(nextInRepeat(at, picks).pick),
      runs: sayRuns(told(at)),
    })),
    pickWords: `of ${picks}`,
    repeatWords: goal === null ? `Repeat ${repeat}` : `Repeat ${repeat} of ${Math.max(1, Math.ceil(goal / picks))}`,
    ahead: goal === null ? '' : sayAhead(place, picks, goal),
    twist: sayTwist(borders),
    ...sayReversal(borders, place, facts.way),
  }
}

function sayAhead(place: number, picks: number, goal: number): string {
  const ahead = aheadOf(place, picks, goal)
  if (ahead.picks < 0) return `${sayCount(-ahead.picks, 'pick')} beyond the plan`
  return ahead.picks === 0 ? 'the planned end' : `${sayCount(ahead.picks, 'pick')} to go`
}

function sayTwist({ hasBorders, twist }: BordersAhead): string {
  const who = hasBorders ? 'Borders' : `Tablet ${twist.tablet}`
  if (twist.turns === 0) return `${who}: no twist`
  const turns = sayCount(Math.abs(twist.turns), 'turn')
  const per = twist.perM === null ? '' : `, ${twist.perM.toFixed(twist.perM < 10 ? 1 : 0)} a metre`
  return `${who}: ${turns} ${twist.turns > 0 ? 'forward' : 'back'}${per}`
}

function sayReversal(
  { reversesAfter, isPlanned }: BordersAhead,
  place: number,
  way: BorderWay,
): Pick<LoomView, 'reversal' | 'reversesNow'> {
  if (reversesAfter === null) return { reversal: '', reversesNow: false }
  const does = isPlanned && way === 'flip' ? 'turn the border tablets over' : 'reverse'
  if (reversesAfter === place)
    return {
      reversal: does === 'reverse' ? 'borders reverse at this pick' : `${does} before this pick`,
      reversesNow: true,
    }
  const after = does === 'reverse' ? `reverse after pick ${reversesAfter}` : `${does} after pick ${reversesAfter}`
  return { reversal: `${after}, in ${sayCount(reversesAfter - place, 'pick')}`, reversesNow: false }
}
