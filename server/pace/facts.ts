import type { Draft } from '../../shared/draft/draft.ts'
import { listPickKinds, type PickKind } from '../../shared/draft/tell/pick-kind.ts'
import { turningOf, writeTurning } from '../../shared/draft/turning.ts'
import { fillProgress } from '../../shared/work/fill-progress.ts'
import { LEAST_LEARNING_POINTS, type LearningPoint } from '../../shared/work/learning.ts'
import { toPaceSittings } from '../../shared/work/net-progress.ts'
import { listLearningPoints } from '../../shared/work/pace.ts'
import { listStepGaps } from '../../shared/work/step-gap.ts'
import {
  fatigueOf,
  listRepeatTimes,
  listTimedPicks,
  listTrouble,
  secondsByKind,
  type Fatigue,
  type PickTrouble,
  type RepeatTime,
  type TimedPick,
} from '../../shared/work/step-pace.ts'
import type { Quartiles } from '../../shared/measure/quartile.ts'
import type { Db } from '../db/open.ts'
import { findLimits } from '../hours/limit-queries.ts'
import { listLeftOut, toMakers } from '../hours/queries.ts'
import { listLoomSteps } from '../loom/queries.ts'
import type { Piece } from '../piece/queries.ts'
import type { RepeatLength } from '../sitting/pace.ts'
import type { Sitting } from '../sitting/queries.ts'

/** What the steps at the loom tell of a piece that is woven by a draft. */
export interface StepFacts {
  readonly timed: readonly TimedPick[]
  readonly repeats: readonly RepeatTime[]
  readonly kinds: readonly { readonly kind: PickKind; readonly line: string; readonly seconds: Quartiles }[]
  readonly trouble: readonly PickTrouble[]
  readonly fatigue: Fatigue | null
  /** Quarter turns of tablets in a minute, over the timed picks. */
  readonly turnsPerMinute: number | undefined
  /** Steps by another revision of the draft, which are left out. */
  readonly otherRevision: number
}

export function stepFacts(db: Db, piece: Piece, draft: Draft): StepFacts {
  const turning = turningOf(draft)
  const kinds = listPickKinds(turning)
  const kindOf = new Map(kinds.flatMap((kind) => kind.picks.map((pick) => [pick, kind.kind])))
  const ofPick = (pick: number) => kindOf.get(pick) ?? 0
  const leftOut = listLeftOut(db, piece.id)
  const all = listLoomSteps(db, piece.id)
  const isOther = (id: number | undefined) => id !== undefined && id !== piece.draftRevisionId
  const { limits } = findLimits(db, piece.id)
  const gaps = [...toMakers(db, piece, all).values()].flatMap((steps) =>
    listStepGaps(
      steps.filter(
        (step) => !isOther(step.draftRevisionId) && !leftOut.some(({ from, to }) => step.at >= from && step.at <= to),
      ),
      limits,
    ),
  )
  const timed = listTimedPicks(gaps, turning.picks)
  const lines = writeTurning(turning)
  const flat = timed.flat()
  const seconds = flat.reduce((sum, pick) => sum + pick.seconds, 0)
  const turned = flat.reduce((sum, { pick }) => sum + quarterTurns(turning, pick), 0)
  return {
    ...{ timed: flat, repeats: listRepeatTimes(gaps, turning.picks), trouble: listTrouble(gaps, turning.picks) },
    kinds: secondsByKind(flat, ofPick).flatMap(({ kind: number, seconds: of }) => {
      const kind = kinds.find((one) => one.kind === number)
      return kind ? [{ kind, line: lines[(kind.picks[0] ?? 1) - 1] ?? '', seconds: of }] : []
    }),
    fatigue: fatigueOf(timed, ofPick),
    turnsPerMinute: seconds > 0 ? (turned * 60) / seconds : undefined,
    otherRevision: all.filter((step) => isOther(step.draftRevisionId)).length,
  }
}

function quarterTurns({ tablets, turns }: ReturnType<typeof turningOf>, pick: number): number {
  return turns.subarray((pick - 1) * tablets, pick * tablets).reduce((sum, turn) => sum + Math.abs(turn), 0)
}

/**
 * What a learning curve of a piece stands on: one point a repeat where the steps give four of them or more, and at least half
 * of those woven; else one a sitting. A few repeats late in the work would show nothing of the learning before.
 */
export interface LearningBase {
  readonly points: readonly LearningPoint[]
  readonly by: 'repeat' | 'sitting'
}

export function learningBase(
  sittings: readonly Sitting[],
  draft: Draft | undefined,
  repeatLength: RepeatLength | undefined,
  repeats: readonly RepeatTime[],
): LearningBase {
  const last = repeats.at(-1)?.repeat ?? 0
  if (repeats.length >= LEAST_LEARNING_POINTS && repeats.length * 2 >= last) return { points: repeats, by: 'repeat' }
  const filled = fillProgress(sittings, { picks: draft?.picks.length, lengthMm: repeatLength?.mm })
  return { points: listLearningPoints(toPaceSittings(filled)), by: 'sitting' }
}
