import { fitLine, lineAt } from '../measure/line.ts'
import { sumOf } from '../measure/univariate.ts'
import { guessed, type MinutesAhead } from './hours-ahead.ts'
import type { Stage } from './stage.ts'

/** What is asked of the hands at a stage, for which hours are foretold. Unweaving is counted with the weaving. */
export type ForecastStage = Exclude<Stage, 'unweave'>

/** What a band is, as far as its hours go by it. */
export interface BandSize {
  readonly tablets: number
  readonly picksPerRepeat: number
  /** More than zero, fractions allowed. */
  readonly repeats: number
  /** Handfuls and changes of direction in the mean of a pick: see `measureComplexity`. */
  readonly load: number
}

/** A finished piece of the maker's own, with what it took. */
export interface OwnPiece extends BandSize {
  readonly name: string
  /** Minutes worked, by stage; what was not timed is left out. */
  readonly minutes: Readonly<Partial<Record<ForecastStage, number>>>
  /** Exponent of its learning curve over repeats; null where it has none. */
  readonly exponent: number | null
}

/** How hours were found: by a line through own pieces, by their mean, by one of them, as typed, by a guess of ours. */
export type FoundBy = 'line' | 'alike' | 'mean' | 'one' | 'typed' | 'guess'

export interface StageAhead {
  readonly stage: ForecastStage
  readonly ahead: MinutesAhead
  readonly by: FoundBy
  /** Own pieces that it rests on. */
  readonly n: number
  readonly pieces: readonly string[]
}

export interface NewPieceAhead {
  readonly stages: readonly StageAhead[]
  /** Mean exponent of own learning curves, and how many; exponent 0 where there is none. */
  readonly learning: { readonly exponent: number; readonly n: number }
}

/** From so many own pieces on, a line against the load of a pick is claimed. */
export const LEAST_LINE_PIECES = 5
/** From so many of like load on, they alone are gone by. */
const LEAST_ALIKE = 3
const ALIKE = 1.5

const STAGES_AHEAD = ['study', 'draft', 'sample', 'wind', 'thread', 'weave', 'finish', 'write'] as const

/** Guesses of ours, no source, in minutes: for a piece, for a tablet, for a pick. They stand until own pieces say better. */
export const GUESSES = {
  study: 120,
  draft: 120,
  sample: 120,
  finish: 90,
  write: 60,
  wind: 3,
  thread: 5,
  weave: 1.5,
} as const

/**
 * Hours of a band that was never woven, stage by stage, from the maker's own finished pieces.
 * Weaving: minutes of the first repeat for a pick, each piece's learning taken off by the mean exponent of own curves; of five
 * pieces or more a line against the load of a pick (on logarithms), else the mean of pieces of like load (at most half as
 * much again or less), else of all. Winding and threading: minutes for a tablet. Other stages: minutes for a piece. With one
 * piece the width is a guess, with none the hours are.
 * @param band load, tablets, picks and repeats more than zero
 * @param own finished pieces
 * @param typed hours that the maker expects of a stage, in minutes: they stand before our own guess and before own pieces
 * @example newPieceAhead({ tablets: 20, picksPerRepeat: 40, repeats: 10, load: 6 }, [], {}) // eight guesses
 * Source: our own; prediction intervals of a mean and of a line by Student's t (Montgomery and Runger, 11-6).
 */
export function newPieceAhead(
  band: BandSize,
  own: readonly OwnPiece[],
  typed: Readonly<Partial<Record<ForecastStage, number>>>,
): NewPieceAhead {
  const exponents = own.flatMap(({ exponent }) => (exponent === null ? [] : [exponent]))
  const learning = { exponent: exponents.length === 0 ? 0 : sumOf(exponents) / exponents.length, n: exponents.length }
  const stages = STAGES_AHEAD.map((stage): StageAhead => {
    const expected = typed[stage]
    if (expected !== undefined) return { stage, ahead: guessed(expected), by: 'typed', n: 0, pieces: [] }
    return stageAhead(stage, band, own, learning.exponent)
  })
  return { stages, learning }
}

function stageAhead(stage: ForecastStage, band: BandSize, own: readonly OwnPiece[], exponent: number): StageAhead {
  const timed = own.flatMap((piece) => {
    const minutes = piece.minutes[stage]
    return minutes === undefined || minutes <= 0
      ? []
      : [{ piece, log: Math.log(minutes / workOf(stage, piece, exponent)) }]
  })
  const work = workOf(stage, band, exponent)
  const found = (by: FoundBy, used: typeof timed, ahead: MinutesAhead): StageAhead => ({
    ...{ stage, by, n: used.length },
    pieces: used.map(({ piece }) => piece.name),
    ahead: { ...ahead, minutes: ahead.minutes * work },
  })
  if (timed.length === 0) return found('guess', [], guessed(GUESSES[stage]))
  if (timed.length === 1) return found('one', timed, guessed(Math.exp(timed[0]?.log ?? 0)))
  if (stage !== 'weave') return found('mean', timed, meanAhead(timed.map(({ log }) => log)))
  const loads = timed.map(({ piece }) => Math.log(piece.load))
  if (timed.length >= LEAST_LINE_PIECES && loads.some((load) => load !== loads[0])) {
    const line = fitLine(
      loads,
      timed.map(({ log }) => log),
    )
    const { y, uNew } = lineAt(line, Math.log(band.load))
    return found('line', timed, { minutes: Math.exp(y), u: uNew, df: line.df })
  }
  const alike = timed.filter(({ piece }) => piece.load <= band.load * ALIKE && band.load <= piece.load * ALIKE)
  const used = alike.length >= LEAST_ALIKE ? alike : timed
  return found(used === alike ? 'alike' : 'mean', used, meanAhead(used.map(({ log }) => log)))
}

/** What the minutes of a stage go by: picks as if all were of the first repeat, tablets, or the piece as a whole. */
function workOf(stage: ForecastStage, { tablets, picksPerRepeat, repeats }: BandSize, exponent: number): number {
  if (stage === 'weave') return picksPerRepeat * unitSum(repeats, exponent)
  return stage === 'wind' || stage === 'thread' ? tablets : 1
}

/** 1^b + 2^b + … up to `repeats`, a fraction of the last with its share. */
function unitSum(repeats: number, exponent: number): number {
  let sum = 0
  for (let repeat = 1; repeat - 1 < repeats; repeat += 1) sum += Math.min(1, repeats - repeat + 1) * repeat ** exponent
  return sum
}

/** One new value among n of a kind, on logarithms. */
function meanAhead(logs: readonly number[]): MinutesAhead {
  const n = logs.length
  const mean = sumOf(logs) / n
  const s = Math.sqrt(sumOf(logs.map((log) => (log - mean) ** 2)) / (n - 1))
  return { minutes: Math.exp(mean), u: s * Math.sqrt(1 + 1 / n), df: n - 1 }
}
