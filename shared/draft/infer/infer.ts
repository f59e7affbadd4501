import type { ColourKey, Draft, Tablet } from '../draft.ts'
import { writeTurning } from '../turning.ts'
import { colourGrid, weave } from '../weave.ts'
import { SLASH, type Turning } from '../woven.ts'
import { LatticeSpace, LatticeTooLarge } from './lattice.ts'
import type { ObservedFace } from './observed.ts'
import { type InferRequest, listRequestProblems, type RequestProblem } from './request.ts'
import { solveTablet, type TabletSolution } from './solve-tablet.ts'

/** A cell in which the draft does not weave what was seen. Counted from 1. */
export interface Mismatch {
  readonly pick: number
  readonly tablet: number
  /** A colour key; or, where `of` is `slant`, `/` or `\`. */
  readonly observed: string
  /** Null where an empty hole shows and the weft is not known. */
  readonly woven: string | null
  readonly of: 'colour' | 'slant'
}

export interface TabletFinding {
  /** From 1. */
  readonly tablet: number
  readonly mismatches: number
  readonly reversals: number
  /** Decimal: how many (start, turning) choices, with the holes and threading of the draft, are as good. */
  readonly solutions: string
  /** True when neither what is known nor a legible slant tells S from Z; the draft then says S. */
  readonly threadingIsOpen: boolean
  /** Picks at which equally good solutions turn, or show colours, that differ. */
  readonly turnDiffers: readonly number[]
  readonly colourDiffers: readonly number[]
  /** The one legible cell that would leave the fewest solutions, and how many at most; null when none would help. */
  readonly decides: { readonly pick: number; readonly of: 'colour' | 'slant'; readonly leaves: string } | null
}

export interface Inference {
  readonly draft: Draft
  readonly mismatches: readonly Mismatch[]
  readonly perTablet: readonly TabletFinding[]
}

export type InferResult =
  | { readonly ok: true; readonly inference: Inference }
  | { readonly ok: false; readonly problems: readonly RequestProblem[] }

export interface InferProgress {
  readonly done: number
  readonly tablets: number
}

/**
 * Finds, tablet by tablet, the turning that explains an observed face best, step by step: after each tablet it says
 * how far it is, and whoever called may stop there. Each pick is a quarter turn forward or back.
 * @param request every one that `listRequestProblems` has nothing against; others come back with their problems
 * @param title of the draft
 * @example const steps = inferSteps(request, ''); let step = steps.next(); while (!step.done) step = steps.next()
 * Source: our own.
 */
export function* inferSteps(request: InferRequest, title: string): Generator<InferProgress, InferResult> {
  const problems = listRequestProblems(request)
  if (problems.length > 0) return { ok: false, problems }
  const space = new LatticeSpace()
  const found: TabletSolution[] = []
  for (let tablet = 0; tablet < request.tablets.length; tablet++) {
    const solution = solveOrRefuse(
      {
        known: request.tablets[tablet]!,
        cells: request.observed.cells.map((row) => row[tablet]!),
        slants: request.observed.slants?.map((row) => row[tablet]!),
        weft: request.weft,
        require: request.require,
        anyColour: request.weft ?? Object.keys(request.colours)[0]!,
      },
      space,
    )
    if (solution === 'too large') {
      const message = `Tablet ${tablet + 1}: a repeat this long with so much that does not fit cannot be made neutral in the memory there is.`
      return { ok: false, problems: [{ path: 'require.twistNeutral', message }] }
    }
    if (!solution) return { ok: false, problems: [{ path: 'require', message: sayImpossible(request, tablet) }] }
    found.push(solution)
    yield { done: found.length, tablets: request.tablets.length }
  }
  return { ok: true, inference: toInference(request, title, found) }
}

function solveOrRefuse(...task: Parameters<typeof solveTablet>): ReturnType<typeof solveTablet> | 'too large' {
  try {
    return solveTablet(...task)
  } catch (error) {
    if (error instanceof LatticeTooLarge) return 'too large'
    throw error
  }
}

/**
 * The same in one go.
 * @example inferDraft({ colours, tablets: [UNKNOWN_TABLET], observed: { cells: [['m'], ['w']] }, require: {} }, '')
 */
export function inferDraft(request: InferRequest, title: string): InferResult {
  const steps = inferSteps(request, title)
  let step = steps.next()
  while (!step.done) step = steps.next()
  return step.value
}

function sayImpossible({ observed, require }: InferRequest, tablet: number): string {
  const { closes, twistNeutral, longestFloat } = require
  const wishes = [
    twistNeutral ? 'is twist-neutral' : closes ? 'closes' : '',
    longestFloat === undefined ? '' : `has no float over ${longestFloat === 1 ? '1 pick' : `${longestFloat} picks`}`,
  ].filter(Boolean)
  const picks = observed.cells.length
  const many = picks === 1 ? '1 pick' : `${picks} picks`
  return `Tablet ${tablet + 1}: no turning of ${many} ${wishes.join(' and ')}.`
}

function toInference(request: InferRequest, title: string, found: readonly TabletSolution[]): Inference {
  const picks = request.observed.cells.length
  const tablets: Tablet[] = found.map(({ threading, holes, start }, at) => ({
    ...{ threading, holes, start },
    part: request.tablets[at]!.part,
  }))
  const turns = new Int8Array(picks * tablets.length)
  found.forEach((solution, at) => solution.turns.forEach((turn, pick) => (turns[pick * tablets.length + at] = turn)))
  const turning = { tablets: tablets.length, picks, turns }
  const weft = request.weft ?? Object.keys(request.colours)[0]!
  const draft: Draft = { title, colours: request.colours, weft, tablets, picks: writeTurning(turning) }
  return {
    draft,
    mismatches: listMismatches(draft, turning, request),
    perTablet: found.map(({ mismatches, reversals, ...one }, at) => ({
      ...{ tablet: at + 1, mismatches, reversals },
      solutions: String(one.solutions),
      threadingIsOpen: one.threadingIsOpen,
      turnDiffers: one.turnDiffers,
      colourDiffers: one.colourDiffers,
      decides: one.decides ? { ...one.decides, leaves: String(one.decides.leaves) } : null,
    })),
  }
}

/**
 * The cells in which a draft does not weave what was seen: looked for on what the engine really weaves, not on what the
 * search thought.
 * @throws RangeError when turning and draft do not fit each other
 * @example listMismatches(draft, turningOf(draft), { observed: { cells: [['m']] }, weft: undefined })
 */
export function listMismatches(
  draft: Draft,
  turning: Turning,
  { observed, weft }: { readonly observed: ObservedFace; readonly weft?: ColourKey | undefined },
): Mismatch[] {
  const woven = weave(draft, turning)
  const face = colourGrid(draft, woven, 'face')
  const mismatches: Mismatch[] = []
  const add = (pick: number, tablet: number, seen: string | null, made: ColourKey | null, of: Mismatch['of']) => {
    if (seen === null || seen === made) return
    mismatches.push({ pick: pick + 1, tablet: tablet + 1, observed: seen, woven: made, of })
  }
  observed.cells.forEach((row, pick) =>
    row.forEach((key, tablet) => {
      add(pick, tablet, key, face[pick]![tablet] ?? weft ?? null, 'colour')
      const slant = woven.slant[pick * draft.tablets.length + tablet] === SLASH ? '/' : '\\'
      add(pick, tablet, observed.slants?.[pick]?.[tablet] ?? null, slant, 'slant')
    }),
  )
  return mismatches
}
