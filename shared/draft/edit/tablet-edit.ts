import { HOLES, MOST_TABLETS, type Tablet } from '../draft.ts'
import { sayListed } from '../number-words.ts'
import { mirrorTablets } from '../threading.ts'
import type { Bench } from './bench.ts'
import type { Edit, Refused, Step, TabletRun } from './step.ts'

/**
 * Tablets beside each other with their turns, to be put somewhere else.
 * @param from first and `to` last, from 0
 * @example runOf(bench, 2, 4).tablets.length // 3
 */
export function runOf(bench: Bench, from: number, to: number): TabletRun {
  const { tablets, picks, turns } = bench.turning
  const wide = to - from + 1
  const own = new Int8Array(wide * picks)
  for (let pick = 0; pick < picks; pick++) {
    own.set(turns.subarray(pick * tablets + from, pick * tablets + to + 1), pick * wide)
  }
  return { tablets: bench.tablets.slice(from, to + 1), turns: own }
}

/** The run as a mirror beside the band shows it: opposite order, S and Z changed over, the turns with their tablets. */
export function mirrorRun({ tablets, turns }: TabletRun): TabletRun {
  const wide = tablets.length
  const mirrored = turns.map((_, cell) => turns[cell - (cell % wide) + wide - 1 - (cell % wide)]!)
  return { tablets: mirrorTablets(tablets), turns: mirrored }
}

const NO_TABLETS: TabletRun = { tablets: [], turns: new Int8Array(0) }

function splice(bench: Bench, at: number, count: number, inserted: TabletRun, label: string): Edit | Refused {
  const left = bench.tablets.length - count + inserted.tablets.length
  if (left < 1) return { why: 'A draft needs at least one tablet.' }
  if (left > MOST_TABLETS) return { why: `That would be ${left} tablets; at most ${MOST_TABLETS} fit.` }
  const removed = count === 0 ? NO_TABLETS : runOf(bench, at, at + count - 1)
  return { label, steps: [{ kind: 'tablets', at, removed, inserted }] }
}

const say = (from: number, to: number) =>
  sayListed(
    'tablet',
    Array.from({ length: to - from + 1 }, (_, at) => from + at + 1),
  )

/** A tablet threaded and turned like `like`, put in before tablet `at`. */
export const insertTablet = (bench: Bench, at: number, like: number): Edit | Refused =>
  splice(bench, at, 0, runOf(bench, like, like), `put in a tablet before tablet ${at + 1}`)

/** Tablets `from` to `to` taken out, with their turns; refused when none would be left. */
export const deleteTablets = (bench: Bench, from: number, to: number): Edit | Refused =>
  splice(bench, from, to - from + 1, NO_TABLETS, `took out ${say(from, to)}`)

/** Tablets `from` to `to` once more, straight after themselves. */
export function repeatTablets(bench: Bench, from: number, to: number, times: number): Edit | Refused {
  const more = (to - from + 1) * times
  const total = bench.tablets.length + more
  if (total > MOST_TABLETS) return { why: `That would be ${total} tablets; at most ${MOST_TABLETS} fit.` }
  const run = runOf(bench, from, to)
  const wide = run.tablets.length
  const turns = new Int8Array(more * bench.turning.picks)
  for (let cell = 0; cell < turns.length; cell++) {
    turns[cell] = run.turns[Math.floor(cell / more) * wide + (cell % wide)]!
  }
  const tablets = Array.from({ length: more }, (_, at) => run.tablets[at % wide]!)
  return splice(bench, to + 1, 0, { tablets, turns }, `${say(from, to)} again, ${more} more`)
}

/** Tablets `from` to `to` mirrored where they stand. */
export const mirrorInPlace = (bench: Bench, from: number, to: number): Edit | Refused =>
  splice(bench, from, to - from + 1, mirrorRun(runOf(bench, from, to)), `mirrored ${say(from, to)}`)

/** Their mirror image added straight after them. */
export const mirrorAfter = (bench: Bench, from: number, to: number): Edit | Refused =>
  splice(bench, to + 1, 0, mirrorRun(runOf(bench, from, to)), `added the mirror of ${say(from, to)}`)

/**
 * Tablets `from` to `to` moved by some places, with their turns.
 * @param by places to the right, negative to the left
 * @returns refused when they would leave the band
 */
export function moveTablets(bench: Bench, from: number, to: number, by: number): Edit | Refused {
  const count = to - from + 1
  const run = runOf(bench, from, to)
  const at = from + by
  if (at < 0 || at + count > bench.tablets.length) return { why: 'There is no further place on this side.' }
  const label = `moved ${say(from, to)}`
  if (by === 0) return { label, steps: [] }
  const steps: Step[] = [
    { kind: 'tablets', at: from, removed: run, inserted: NO_TABLETS },
    { kind: 'tablets', at, removed: NO_TABLETS, inserted: run },
  ]
  return { label, steps }
}

/** Other tablets in the place of `from` to `to`; each turns as the one did that stood in its place, or the last one. */
export function replaceTablets(bench: Bench, from: number, to: number, tablets: readonly Tablet[]): Edit | Refused {
  const label = `threading of ${say(from, to)}`
  const old = runOf(bench, from, to)
  const [wide, had] = [tablets.length, old.tablets.length]
  if (wide === had) return changeTablets(bench, range(from, to), (_, at) => tablets[at - from]!, label)
  const turns = new Int8Array(wide * bench.turning.picks)
  for (let cell = 0; cell < turns.length; cell++) {
    turns[cell] = old.turns[Math.floor(cell / wide) * had + Math.min(cell % wide, had - 1)]!
  }
  return splice(bench, from, had, { tablets, turns }, label)
}

const range = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, at) => from + at)

/**
 * Changes some tablets where they stand; their turning stays.
 * @param places from 0
 * @param change the new tablet for each; one that comes back the same is no change
 * @example changeTablets(bench, [0, 1], (tablet) => ({ ...tablet, threading: 'Z' }), 'Z, tablets 1, 2')
 */
export function changeTablets(
  bench: Bench,
  places: readonly number[],
  change: (tablet: Tablet, at: number) => Tablet,
  label: string,
): Edit {
  const changed = places
    .map((place) => ({ place, before: bench.tablets[place]!, after: change(bench.tablets[place]!, place) }))
    .filter(({ before, after }) => !isSame(before, after))
  if (changed.length === 0) return { label, steps: [] }
  return {
    label,
    steps: [
      {
        kind: 'threading',
        places: changed.map(({ place }) => place),
        before: changed.map(({ before }) => before),
        after: changed.map(({ after }) => after),
      },
    ],
  }
}

const isSame = (a: Tablet, b: Tablet) =>
  a.threading === b.threading &&
  a.start === b.start &&
  a.part === b.part &&
  HOLES.every((_, hole) => a.holes[hole] === b.holes[hole])
