import type { Tablet } from '../draft.ts'
import type { Turning } from '../woven.ts'
import type { Bench, Colouring } from './bench.ts'

/** Tablets that stand beside each other, with their turns: `turns[pick * tablets.length + tablet]`. */
export interface TabletRun {
  readonly tablets: readonly Tablet[]
  readonly turns: Int8Array
}

/**
 * The smallest change, told with what was there before, so that it can be taken back. `cells` are places in the
 * turning at that moment, rising.
 */
export type Step =
  | { readonly kind: 'turns'; readonly cells: Int32Array; readonly before: Int8Array; readonly after: Int8Array }
  | { readonly kind: 'picks'; readonly at: number; readonly removed: Int8Array; readonly inserted: Int8Array }
  | { readonly kind: 'tablets'; readonly at: number; readonly removed: TabletRun; readonly inserted: TabletRun }
  | {
      readonly kind: 'threading'
      readonly places: readonly number[]
      readonly before: readonly Tablet[]
      readonly after: readonly Tablet[]
    }
  | { readonly kind: 'colours'; readonly before: Colouring; readonly after: Colouring }
  /** Another draft laid in the place of this one, as when a second window's is taken up. */
  | { readonly kind: 'whole'; readonly before: Bench; readonly after: Bench }

/** What one undo takes back. */
export interface Edit {
  /** What was done, to be read after “Undo:”. */
  readonly label: string
  readonly steps: readonly Step[]
}

/** Why an edit cannot be made, as a sentence. */
export interface Refused {
  readonly why: string
}

export const isRefused = (made: Edit | Refused): made is Refused => 'why' in made

/**
 * The bench after one step. Arrays that the step does not touch are shared with the bench before.
 * @example applyStep(bench, { kind: 'turns', cells: Int32Array.of(3), before: Int8Array.of(1), after: Int8Array.of(-1) })
 */
export function applyStep(bench: Bench, step: Step): Bench {
  switch (step.kind) {
    case 'turns': {
      const turns = bench.turning.turns.slice()
      step.cells.forEach((cell, at) => (turns[cell] = step.after[at]!))
      return { ...bench, turning: { ...bench.turning, turns } }
    }
    case 'picks':
      return { ...bench, turning: splicePicks(bench.turning, step.at, step.removed.length, step.inserted) }
    case 'tablets':
      return {
        ...bench,
        tablets: bench.tablets.toSpliced(step.at, step.removed.tablets.length, ...step.inserted.tablets),
        turning: spliceTablets(bench.turning, step.at, step.removed.tablets.length, step.inserted),
      }
    case 'threading': {
      const tablets = [...bench.tablets]
      step.places.forEach((place, at) => (tablets[place] = step.after[at]!))
      return { ...bench, tablets }
    }
    case 'colours':
      return { ...bench, ...step.after }
    case 'whole':
      return step.after
  }
}

/** The step that takes this one back. */
export function invertStep(step: Step): Step {
  switch (step.kind) {
    case 'turns':
      return { ...step, before: step.after, after: step.before }
    case 'threading':
      return { ...step, before: step.after, after: step.before }
    case 'colours':
      return { ...step, before: step.after, after: step.before }
    case 'whole':
      return { ...step, before: step.after, after: step.before }
    case 'picks':
      return { ...step, removed: step.inserted, inserted: step.removed }
    case 'tablets':
      return { ...step, removed: step.inserted, inserted: step.removed }
  }
}

/** Another draft in the place of this one; undone like any other edit. */
export const layWhole = (before: Bench, after: Bench, label: string): Edit => ({
  label,
  steps: [{ kind: 'whole', before, after }],
})

/** The bench after all steps of an edit. */
export const applyEdit = (bench: Bench, { steps }: Edit): Bench => steps.reduce(applyStep, bench)

/** The edit that takes this one back: its steps inverted, the last one first. */
export const invertEdit = ({ label, steps }: Edit): Edit => ({ label, steps: steps.map(invertStep).reverse() })

/**
 * Two edits that follow each other as one, so that a stroke of the hand is one thing to undo.
 * @example joinEdits(first, second).label // the label of the second
 */
export const joinEdits = (first: Edit, second: Edit): Edit => ({
  label: second.label,
  steps: [...first.steps, ...second.steps],
})

function splicePicks({ tablets, turns }: Turning, at: number, removed: number, inserted: Int8Array): Turning {
  const spliced = new Int8Array(turns.length - removed + inserted.length)
  spliced.set(turns.subarray(0, at * tablets))
  spliced.set(inserted, at * tablets)
  spliced.set(turns.subarray(at * tablets + removed), at * tablets + inserted.length)
  return { tablets, picks: spliced.length / tablets, turns: spliced }
}

function spliceTablets({ tablets, picks, turns }: Turning, at: number, removed: number, run: TabletRun): Turning {
  const [added, wide] = [run.tablets.length, tablets - removed + run.tablets.length]
  const spliced = new Int8Array(wide * picks)
  for (let pick = 0; pick < picks; pick++) {
    const [row, own] = [pick * tablets, pick * wide]
    spliced.set(turns.subarray(row, row + at), own)
    spliced.set(run.turns.subarray(pick * added, (pick + 1) * added), own + at)
    spliced.set(turns.subarray(row + at + removed, row + tablets), own + at + added)
  }
  return { tablets: wide, picks, turns: spliced }
}
