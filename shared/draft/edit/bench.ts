import type { Colour, ColourKey, Draft, Tablet } from '../draft.ts'
import { turningOf, writeTurning } from '../turning.ts'
import type { Turning } from '../woven.ts'

/** The colours of a draft and which of them the weft has. */
export interface Colouring {
  readonly colours: Readonly<Record<ColourKey, Colour>>
  readonly weft: ColourKey
}

/** A draft as it lies on the bench: its turning is read, so that single turns can be changed. Never altered in place. */
export interface Bench extends Colouring {
  readonly title: string
  readonly tablets: readonly Tablet[]
  readonly turning: Turning
}

/** Tablets (from 0, rising) over some picks (from 0, `to` belongs to them): what most edits work on. */
export interface Block {
  readonly tablets: readonly number[]
  readonly from: number
  readonly to: number
}

/**
 * Lays a draft on the bench.
 * @param draft one that `readDraft` returned
 * @throws RangeError when its picks cannot be read
 * @example benchOf(draft).turning.picks // 72
 */
export function benchOf(draft: Draft): Bench {
  const { title, colours, weft, tablets } = draft
  return { title, colours, weft, tablets, turning: turningOf(draft) }
}

/**
 * The draft that lies on the bench, its picks in the fewest runs.
 * @example draftOn(benchOf(draft)) // the same draft; its picks may be written in fewer runs
 */
export function draftOn({ title, colours, weft, tablets, turning }: Bench): Draft {
  return { title, colours, weft, tablets, picks: writeTurning(turning) }
}

/**
 * A block cut down to what is on the bench.
 * @returns undefined when nothing of it is
 * @example fitBlock(bench of 6 x 8, { tablets: [5, 6], from: 7, to: 9 }) // { tablets: [5], from: 7, to: 7 }
 */
export function fitBlock({ turning }: Bench, { tablets, from, to }: Block): Block | undefined {
  const there = tablets.filter((tablet) => tablet >= 0 && tablet < turning.tablets)
  const block = { tablets: there, from: Math.max(0, from), to: Math.min(to, turning.picks - 1) }
  return there.length > 0 && block.from <= block.to ? block : undefined
}
