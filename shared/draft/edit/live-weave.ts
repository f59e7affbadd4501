import { HOLES, type Tablet } from '../draft.ts'
import { weave } from '../weave.ts'
import { BACKSLASH, NO_SLANT, SLASH, type Woven } from '../woven.ts'
import { applyStep, type Edit, type Step } from './step.ts'
import type { Bench } from './bench.ts'

/**
 * What a bench weaves, kept up to date edit by edit. Its arrays are changed in place where their size stays, so hold on
 * to this and not to them.
 */
export interface LiveWeave {
  woven: Woven
}

/** What an edit changed in the cloth: the tablets (1 for each that changed), or everything because its size did. */
export interface Followed {
  readonly resized: boolean
  /** One a tablet of the bench after the edit. */
  readonly tablets: Uint8Array
}

/**
 * Weaves a bench for the first time.
 * @example startLiveWeave(benchOf(draft)).woven.face
 */
export function startLiveWeave(bench: Bench): LiveWeave {
  return { woven: weave(draftOnNoPicks(bench), bench.turning) }
}

/** `weave` reads tablets and turning alone. */
const draftOnNoPicks = (bench: Bench) => ({ ...bench, picks: [] })

/**
 * Brings the cloth to where the bench stands after an edit, and weaves no more than it must: a turn changed at pick p of
 * tablet t weaves t from p on, until it stands as it stood before.
 * @param before the bench that `live` belongs to
 * @param edit what was done to it since
 * @param after the bench that came of it, where it is known: what `applyEdit` gives
 * @returns what has to be drawn anew
 * @example followEdit(live, bench, paintBlock(bench, block, -1)).tablets // 1 for each tablet of the block that changed
 * Source: our own.
 */
export function followEdit(live: LiveWeave, before: Bench, edit: Edit, after?: Bench): Followed {
  let bench = before
  let resized = false
  let changed = new Uint8Array(before.tablets.length)
  for (const step of edit.steps) {
    bench = after && edit.steps.length === 1 ? after : applyStep(bench, step)
    if (step.kind === 'picks' || step.kind === 'tablets' || step.kind === 'whole') resized = true
    if (changed.length !== bench.tablets.length) changed = new Uint8Array(bench.tablets.length)
    followStep(live, bench, step, changed)
  }
  if (resized) changed.fill(1)
  return { resized, tablets: changed }
}

function followStep(live: LiveWeave, bench: Bench, step: Step, changed: Uint8Array): void {
  const { tablets } = bench.turning
  switch (step.kind) {
    case 'turns': {
      const spans = new Map<number, { first: number; last: number }>()
      for (const cell of step.cells) {
        const tablet = cell % tablets
        const pick = (cell - tablet) / tablets
        const span = spans.get(tablet)
        if (span) span.last = pick
        else spans.set(tablet, { first: pick, last: pick })
      }
      // Row by row is the way the turns lie in memory: where most tablets change, all of them are quicker than each.
      const isMost = spans.size * 4 > tablets
      if (isMost) weaveRows(live.woven, bench, step)
      for (const [tablet, { first, last }] of spans) {
        changed[tablet] = 1
        if (!isMost) weaveTablet(live.woven, bench, tablet, first, last)
      }
      return
    }
    case 'threading':
      step.places.forEach((tablet, at) => {
        changed[tablet] = 1
        const [was, is] = [step.before[at]!, step.after[at]!]
        if (was.start !== is.start || was.threading !== is.threading) weaveTablet(live.woven, bench, tablet, 0)
      })
      return
    case 'tablets':
      live.woven = shiftTablets(live.woven, bench, step.at, step.removed.tablets.length, step.inserted.tablets.length)
      step.inserted.tablets.forEach((_, at) => weaveTablet(live.woven, bench, step.at + at, 0))
      return
    case 'picks':
    case 'whole':
      live.woven = startLiveWeave(bench).woven
      return
    case 'colours':
      changed.fill(1)
  }
}

/**
 * Weaves one tablet from a pick on.
 * @param last the last pick whose turn changed: from there on it ends as soon as the tablet stands as it stood before
 */
function weaveTablet(woven: Woven, bench: Bench, tablet: number, first: number, last = Infinity): void {
  const { tablets, picks, turns } = bench.turning
  const { face, reverse, slant, topNear, net } = woven
  const forward = forwardSlant(bench.tablets[tablet]!)
  const start = HOLES.indexOf(bench.tablets[tablet]!.start)
  let stand = first === 0 ? start : topNear[(first - 1) * tablets + tablet]!
  for (let pick = first, cell = first * tablets + tablet; pick < picks; pick++, cell += tablets) {
    const turn = turns[cell]!
    stand = (stand + turn) & 3
    let [onFace, onReverse, lean] = [-1, -1, NO_SLANT as number]
    if (turn !== 0) {
      onFace = (turn > 0 ? stand - 1 : stand) & 3
      onReverse = (turn > 0 ? stand + 1 : stand + 2) & 3
      lean = turn > 0 ? forward : SLASH + BACKSLASH - forward
    } else if (pick > 0) {
      onFace = face[cell - tablets]!
      onReverse = reverse[cell - tablets]!
    }
    if (pick > last && topNear[cell] === stand && face[cell] === onFace && reverse[cell] === onReverse) break
    face[cell] = onFace
    reverse[cell] = onReverse
    slant[cell] = lean
    topNear[cell] = stand
  }
  let sum = 0
  for (let cell = tablet; cell < turns.length; cell += tablets) sum += turns[cell]!
  net[tablet] = sum
}

/** What is added to where a tablet stands to find the hole that shows, by its turn + 2; an idle one shows what it did. */
const [ON_FACE, ON_REVERSE] = [Int8Array.of(0, 0, 0, -1, -1), Int8Array.of(2, 2, 0, 1, 1)]
const [SLANTS, IDLE] = [5, 2]

/**
 * Weaves all tablets pick by pick from the first changed turn on, in the arrays that are there: new ones of a long draft
 * cost more than the weaving. Past the last changed turn it ends with the first pick that stands as it stood before; or
 * with the first in which no tablet idles, for from there on each goes as it went, only from another stand.
 */
function weaveRows(woven: Woven, bench: Bench, { cells, before, after }: Extract<Step, { kind: 'turns' }>): void {
  const { tablets, turns } = bench.turning
  const { face, reverse, slant, topNear, net } = woven
  const further = new Int32Array(tablets)
  cells.forEach((cell, at) => (further[cell % tablets]! += after[at]! - before[at]!))
  further.forEach((quarters, tablet) => (net[tablet]! += quarters))
  const starts = Int8Array.from(bench.tablets, ({ start }) => HOLES.indexOf(start))
  const slants = new Uint8Array(tablets * SLANTS)
  bench.tablets.forEach((tablet, at) => {
    const forward = forwardSlant(tablet)
    const back = SLASH + BACKSLASH - forward
    slants.set([back, back, NO_SLANT, forward, forward], at * SLANTS)
  })
  const last = cells.at(-1)!
  const first = cells[0]! - (cells[0]! % tablets)
  for (let row = first; row < turns.length; row += tablets) {
    let isSame = row > last
    let isTurned = row > last
    for (let tablet = 0, cell = row; tablet < tablets; tablet++, cell++) {
      const turn = turns[cell]! + 2
      const stand = ((row === 0 ? starts[tablet]! : topNear[cell - tablets]!) + turn - 2) & 3
      let onFace = (stand + ON_FACE[turn]!) & 3
      let onReverse = (stand + ON_REVERSE[turn]!) & 3
      if (turn === IDLE) {
        isTurned = false
        onFace = row === 0 ? -1 : face[cell - tablets]!
        onReverse = row === 0 ? -1 : reverse[cell - tablets]!
      }
      if (isSame) isSame = topNear[cell] === stand && face[cell] === onFace && reverse[cell] === onReverse
      face[cell] = onFace
      reverse[cell] = onReverse
      slant[cell] = slants[tablet * SLANTS + turn]!
      topNear[cell] = stand
    }
    if (isSame) return
    if (isTurned) return [topNear, face, reverse].forEach((holes) => shiftHoles(holes, row + tablets, further))
  }
}

/** Four holes at once, each half a turn further. */
const HALF_TURN = 0x02020202

/**
 * Moves holes (0 to 3, none blank) on by so many quarter turns a tablet.
 * @param from a cell that begins a pick
 */
function shiftHoles(holes: Int8Array, from: number, further: Int32Array): void {
  const byHalf = further.every((quarters) => (quarters & 3) === 2)
  const tablets = further.length
  const words = byHalf ? from + (-from & 3) : holes.length
  for (let cell = from, tablet = 0; cell < Math.min(words, holes.length); cell++) {
    holes[cell] = (holes[cell]! + further[tablet]!) & 3
    tablet = tablet + 1 === tablets ? 0 : tablet + 1
  }
  if (words >= holes.length) return
  const four = new Int32Array(holes.buffer, holes.byteOffset + words, (holes.length - words) >> 2)
  for (let at = 0; at < four.length; at++) four[at]! ^= HALF_TURN
  for (let cell = words + four.length * 4; cell < holes.length; cell++) holes[cell]! ^= 2
}

const forwardSlant = ({ threading }: Tablet) => (threading === 'S' ? SLASH : BACKSLASH)

/** Arrays for another number of tablets; the new ones are left blank. */
function shiftTablets(old: Woven, bench: Bench, at: number, removed: number, inserted: number): Woven {
  const { tablets, picks } = bench.turning
  const take = <A extends Int8Array | Uint8Array | Int32Array>(from: A, into: A, rows: number): A => {
    for (let row = 0; row < rows; row++) {
      const [was, is] = [row * old.tablets, row * tablets]
      into.set(from.subarray(was, was + at), is)
      into.set(from.subarray(was + at + removed, was + old.tablets), is + at + inserted)
    }
    return into
  }
  return {
    ...{ tablets, picks },
    face: take(old.face, new Int8Array(tablets * picks), picks),
    reverse: take(old.reverse, new Int8Array(tablets * picks), picks),
    slant: take(old.slant, new Uint8Array(tablets * picks), picks),
    topNear: take(old.topNear, new Int8Array(tablets * picks), picks),
    net: take(old.net, new Int32Array(tablets), 1),
  }
}
