import { HOLES, type Draft, type Tablet } from '../draft.ts'
import { turningOf, writeTurning } from '../turning.ts'
import type { Turning } from '../woven.ts'
import { assumed, type ConventionCard } from './card.ts'

/**
 * From a card's convention into our frame, derived from the frame of design (weaver at the woven end, looking away).
 *
 * - `end`. A reader at the bare warp is the weaver walked round the loom: half a turn about the upright line. That
 *   swaps left and right, near and far, and keeps up, and the slant seen from above (S and Z, turned by half a turn, are
 *   still S and Z). So for this reader left to right is our right to left, the near edge is our far edge, away is our
 *   towards, and the right face of a tablet is our left face.
 * - `forward`. The two answers are opposite turns, so F and B change places; idle stays. A reader at the warp changes
 *   them once more.
 * - `slant`. Thread and tablet lie square to each other seen from above, so the two names are opposite: S is Z.
 * - `face`, `sense`, `first`. Seen from the reader's right, the near edge is at the left, so the corners top-near,
 *   bottom-near, bottom-far, top-far, numbered 0 to 3, go round anticlockwise. Seen from the left they go clockwise: the
 *   other side mirrors the sense. So hole j (A to D as 0 to 3) stands at corner f + s j (mod 4), with f the corner of A
 *   and s = +1 for anticlockwise seen from the right or clockwise seen from the left, else -1. At the warp corner c is
 *   our corner 3 - c. In our frame hole k stands at corner k while `start` is A, so our k is the author's f + s j.
 *   The author's start x says that x stands where A would: the tablet was turned until corner f holds x. Then corner
 *   f + s (j - x) holds j. In our letters corner 0 (top-near) holds our hole s x: our start is s x (mod 4).
 *   A face that goes with the thread looks right in S and left in Z, by the thread's own slant; turned round it still does.
 * - `rows`. A draft is typed as it stands on the page, from its top. Where the first pick is at the foot, the lines
 *   come in the opposite order. `start` is before the first pick either way.
 * - `count`. Counting from the other side is another order of the same tablets: each keeps its slant, holes and start,
 *   and each line of turns is read from its other end. Nothing is mirrored in the cloth.
 */
interface Conversion {
  readonly turnSign: 1 | -1
  readonly swapsSlant: boolean
  readonly reversesTablets: boolean
  readonly reversesPicks: boolean
  /** Where the author's A stands, as our corner, and which way the letters go on, for a thread that slants so. */
  readonly letters: (threadSlant: Tablet['threading']) => { readonly from: number; readonly step: 1 | -1 }
}

const CORNERS = ['topNear', 'bottomNear', 'bottomFar', 'topFar'] as const

function conversionBy(card: ConventionCard): Conversion {
  const { end, forward, slant, face, sense, first, rows, count } = assumed(card)
  const isRound = end === 'warp'
  const corner = CORNERS.indexOf(first as (typeof CORNERS)[number])
  return {
    turnSign: (forward === 'towards') !== isRound ? -1 : 1,
    swapsSlant: slant === 'tablet',
    reversesTablets: (count === 'right') !== isRound,
    reversesPicks: rows === 'upward',
    letters: (threadSlant) => {
      const looksRight = face === 'right' || face === (threadSlant === 'S' ? 'threadTowards' : 'threadAway')
      const step = looksRight === (sense === 'anticlockwise') ? 1 : -1
      return isRound ? { from: 3 - corner, step: step === 1 ? -1 : 1 } : { from: corner, step }
    },
  }
}

/**
 * A draft that is written down as the card says, as our frame writes the same loom: it weaves the same cloth.
 * What the card does not state is taken as in our frame.
 * @param draft one that `readDraft` returned; its picks in the order in which they stand on the author's page, from the top
 * @returns a new draft, its picks in the fewest runs; title, colours, weft and parts are not touched
 * @throws RangeError when its picks cannot be read
 * @example toFrame(draft, OUR_FRAME) // the same draft
 * @example toFrame({ …, picks: ['2F 1B', '3F'] }, { ...OUR_FRAME, count: 'right', rows: 'upward' }).picks // ['3F', '1B 2F']
 * Source: our own, derived above.
 */
export function toFrame(draft: Draft, card: ConventionCard): Draft {
  const conversion = conversionBy(card)
  const tablets = draft.tablets.map((tablet): Tablet => {
    const threading = conversion.swapsSlant ? other(tablet.threading) : tablet.threading
    const { from, step } = conversion.letters(threading)
    return {
      ...tablet,
      threading,
      holes: holesBy((own) => tablet.holes[mod4(step * (own - from))]!),
      start: HOLES[mod4(step * HOLES.indexOf(tablet.start))]!,
    }
  })
  return rearranged(draft, tablets, conversion)
}

/**
 * The way back: a draft of our frame as the author of the card would write it down.
 * @throws RangeError when its picks cannot be read
 * @example fromFrame(toFrame(draft, card), card) // says what draft says, for every card
 * Source: our own; the opposite of `toFrame`.
 */
export function fromFrame(draft: Draft, card: ConventionCard): Draft {
  const conversion = conversionBy(card)
  const tablets = draft.tablets.map((tablet): Tablet => {
    const { from, step } = conversion.letters(tablet.threading)
    return {
      ...tablet,
      threading: conversion.swapsSlant ? other(tablet.threading) : tablet.threading,
      holes: holesBy((authors) => tablet.holes[mod4(from + step * authors)]!),
      start: HOLES[mod4(step * HOLES.indexOf(tablet.start))]!,
    }
  })
  return rearranged(draft, tablets, conversion)
}

/** What changes between a card's convention and our frame, for telling it in words. */
export interface Changes {
  readonly tablets: boolean
  readonly picks: boolean
  readonly turns: boolean
  readonly slants: boolean
  /** Our letters for the author's A, B, C, D, in tablets whose thread slants S and Z; `ABCD` where nothing changes. */
  readonly letters: { readonly S: string; readonly Z: string }
}

/**
 * What `toFrame` changes by a card, whatever the draft.
 * @example changesBy({ ...OUR_FRAME, sense: 'clockwise' }).letters // { S: 'ADCB', Z: 'ADCB' }
 */
export function changesBy(card: ConventionCard): Changes {
  const { turnSign, swapsSlant, reversesTablets, reversesPicks, letters } = conversionBy(card)
  const ours = (threading: Tablet['threading']) => {
    const { from, step } = letters(threading)
    return HOLES.map((_, authors) => HOLES[mod4(from + step * authors)]!).join('')
  }
  return {
    ...{ tablets: reversesTablets, picks: reversesPicks, turns: turnSign < 0, slants: swapsSlant },
    letters: { S: ours('S'), Z: ours('Z') },
  }
}

/**
 * How the turns of a draft of our frame are told to a reader of a card: the sign that a turn gets, whether tablets are
 * counted from the other end, and from which of the reader's sides tablet 1 counts.
 * @example tellingBy(OUR_FRAME) // { turnSign: 1, reversesTablets: false, from: 'left' }
 */
export function tellingBy(card: ConventionCard): {
  readonly turnSign: 1 | -1
  readonly reversesTablets: boolean
  readonly from: 'left' | 'right'
} {
  const { turnSign, reversesTablets } = conversionBy(card)
  return { turnSign, reversesTablets, from: assumed(card).count === 'right' ? 'right' : 'left' }
}

/**
 * Where the holes of a tablet of our frame stand before the first pick, for the reader of a card, with that author's
 * letters: hole j of the four at `corner`, counted top-near, bottom-near, bottom-far, top-far as that reader sees them.
 * @returns four, by corner
 * @example readersHoles(tablet, OUR_FRAME)[0] // { letter: tablet.start, thread: … }
 */
export function readersHoles(
  tablet: Tablet,
  card: ConventionCard,
): readonly { readonly letter: (typeof HOLES)[number]; readonly thread: string | null }[] {
  const isRound = assumed(card).end === 'warp'
  const { from, step } = conversionBy(card).letters(tablet.threading)
  const start = HOLES.indexOf(tablet.start)
  return [0, 1, 2, 3].map((seen) => {
    const own = mod4((isRound ? 3 - seen : seen) + start)
    return { letter: HOLES[mod4(step * (own - from))]!, thread: tablet.holes[own]! }
  })
}

const mod4 = (value: number) => ((value % 4) + 4) % 4
const other = (threading: Tablet['threading']) => (threading === 'S' ? 'Z' : 'S')
const holesBy = (holeAt: (place: number) => string | null): Tablet['holes'] => [
  ...([holeAt(0), holeAt(1), holeAt(2), holeAt(3)] as const),
]

/** Order of tablets, order of picks and sense of turns: each is its own opposite, so both ways share it. */
function rearranged(draft: Draft, tablets: readonly Tablet[], conversion: Conversion): Draft {
  return {
    ...draft,
    tablets: conversion.reversesTablets ? tablets.toReversed() : tablets,
    picks: writeTurning(rearrangedTurning(turningOf(draft), conversion)),
  }
}

function rearrangedTurning(turning: Turning, { turnSign, reversesTablets, reversesPicks }: Conversion): Turning {
  const { tablets, picks } = turning
  const turns = new Int8Array(turning.turns.length)
  for (let pick = 0; pick < picks; pick++) {
    const from = (reversesPicks ? picks - 1 - pick : pick) * tablets
    for (let tablet = 0; tablet < tablets; tablet++) {
      const read = turning.turns[from + (reversesTablets ? tablets - 1 - tablet : tablet)]!
      // Not -0, which an Int8Array does not keep, but 0 for a tablet that idles.
      turns[pick * tablets + tablet] = read * turnSign
    }
  }
  return { tablets, picks, turns }
}
