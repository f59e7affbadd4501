import type { Draft } from '../../shared/draft/draft.ts'
import { toSignificant } from '../../shared/measure/rounding.ts'
import { addAhead, rangeOf, type MinutesAhead, type Range } from '../../shared/work/hours-ahead.ts'
import { LEAST_LEARNING_POINTS } from '../../shared/work/learning.ts'
import { newPieceAhead, type ForecastStage, type StageAhead } from '../../shared/work/new-piece.ts'
import { remainingAtLoom, type Remaining } from '../../shared/work/remaining.ts'
import { STAGE_LABELS } from '../../shared/work/stage.ts'
import type { Db } from '../db/open.ts'
import type { Sitting } from '../sitting/queries.ts'
import { listOwnPieces, minutesByStage, pointsOf, sizeOf } from './own-piece-queries.ts'

export interface ForecastOf {
  readonly draft: Draft
  /** Repeats of the whole band. */
  readonly repeats: number
  /** Minutes that the maker expects of a stage. */
  readonly expected: Readonly<Partial<Record<ForecastStage, number>>>
  /** Undefined for a band that is no piece yet. */
  readonly piece?: { readonly id: number; readonly sittings: readonly Sitting[] } | undefined
}

export interface ForecastRow {
  readonly stage: ForecastStage
  readonly label: string
  readonly ahead: MinutesAhead
  readonly range: Range
  /** What it rests on, with its n. */
  readonly base: string
  readonly isGuess: boolean
}

export interface Forecast {
  readonly kind: 'remaining' | 'whole'
  readonly rows: readonly ForecastRow[]
  readonly total: Range
  /** Worked already at these stages, in minutes. */
  readonly doneMinutes: number
  /** What it rests on, in a sentence or two. */
  readonly base: string
  readonly guesses: number
}

/** What comes after the loom; what comes before it is done when a band is woven on. */
const AFTER: readonly ForecastStage[] = ['weave', 'finish', 'write']

/**
 * Hours that a band still takes, by stage. Of a piece on the loom the weaving is foretold from its own repeats, all else from
 * finished pieces of the viewer's own; what was worked at a stage already is taken off.
 */
export function workOutForecast(db: Db, { draft, repeats, expected, piece }: ForecastOf): Forecast {
  const own = listOwnPieces(db, piece?.id)
  const { stages, learning } = newPieceAhead(sizeOf(draft, repeats), own, expected)
  const done = minutesByStage(piece?.sittings ?? [])
  const atLoom = piece ? remainingAtLoom(pointsOf(piece.sittings, draft), repeats) : null
  const rows = stages.flatMap((stage): ForecastRow[] => {
    if (stage.stage === 'weave' && atLoom && stage.by !== 'typed') return [remainingRow(atLoom)]
    if (atLoom && !AFTER.includes(stage.stage)) return []
    return [stageRow(stage, done[stage.stage] ?? 0, learning)]
  })
  const doneMinutes = rows.reduce((sum, { stage }) => sum + (done[stage] ?? 0), 0)
  const guesses = rows.filter(({ isGuess }) => isGuess).length
  const ofLoom = atLoom && atLoom.by !== 'done' ? `${atLoom.n} stretches on this loom` : ''
  const ofOwn = `${own.length} finished ${own.length === 1 ? 'piece' : 'pieces'} of your own`
  return {
    kind: atLoom ? 'remaining' : 'whole',
    rows,
    total: rangeOf(addAhead(rows.map(({ ahead }) => ahead))),
    doneMinutes,
    guesses,
    base: `${[ofLoom, ofOwn].filter(Boolean).join(' and ')}${guesses > 0 ? `; ${guesses} of ${rows.length} stages are guesses` : ''}. 80 % interval.`,
  }
}

function stageRow(
  { stage, ahead: whole, by, n, pieces }: StageAhead,
  done: number,
  learning: { exponent: number; n: number },
): ForecastRow {
  const ahead = { ...whole, minutes: Math.max(0, whole.minutes - done) }
  const named = pieces.slice(0, 4).join(', ') + (pieces.length > 4 ? ` and ${pieces.length - 4} more` : '')
  const unit =
    stage === 'weave' ? 'a pick of the first repeat' : stage === 'wind' || stage === 'thread' ? 'a tablet' : 'a piece'
  const learnt =
    stage !== 'weave'
      ? ''
      : learning.n === 0
        ? ' No learning is taken in: no piece of yours has a curve (n = 0).'
        : ` Learning: repeats at the exponent ${toSignificant(learning.exponent, 2)}, the mean of ${learning.n} ${learning.n === 1 ? 'curve' : 'curves'} of your own.`
  const words: Record<StageAhead['by'], string> = {
    line: `A line of minutes for ${unit} against handfuls and changes in a pick, n = ${n}: ${named}.${learnt}`,
    alike: `The mean of minutes for ${unit} over pieces of like complexity, n = ${n}: ${named}.${learnt}`,
    mean: `The mean of minutes for ${unit}, n = ${n}: ${named}.${learnt}`,
    one: `One piece, n = 1: ${named}. Its width, from half to twice as long, is a guess of ours, no source.${learnt}`,
    typed: 'As you typed it. Its width, from half to twice as long, is a guess of ours, no source.',
    guess: 'A guess of ours with no source, n = 0: type your own below.',
  }
  const off = done > 0 ? ` Less ${Math.round(done)} min that are worked already.` : ''
  return toRow(stage, ahead, words[by] + off, by === 'guess')
}

function remainingRow({ ahead, by, n, woven, left }: Remaining): ForecastRow {
  const repeats = `${sayRepeats(left)} repeats after ${sayRepeats(woven)} woven`
  const words: Record<Remaining['by'], string> = {
    learning: `Its own learning curve through ${n} stretches: ${repeats}. The median is shown; the limits are of all repeats together, not of each added up.`,
    pace: `Its own pace in ${n} stretches, under ${LEAST_LEARNING_POINTS} and so without a curve: ${repeats}.`,
    one: `One stretch so far, n = 1: ${repeats}. Its width, from half to twice as long, is a guess of ours, no source.`,
    done: 'All repeats are woven.',
  }
  return toRow('weave', ahead, words[by], false)
}

/** 4, or 4.25: a count that is whole has no zeros behind it. */
const sayRepeats = (repeats: number): string => String(Number(toSignificant(repeats, 3)))

const toRow = (stage: ForecastStage, ahead: MinutesAhead, base: string, isGuess: boolean): ForecastRow => ({
  ...{ stage, label: stage === 'weave' ? 'Weave, unweaving with it' : STAGE_LABELS[stage], ahead, base, isGuess },
  range: rangeOf(ahead),
})
