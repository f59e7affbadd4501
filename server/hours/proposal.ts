import { sittingsFromSteps, type StepRest, type StepSitting } from '../../shared/work/step-sitting.ts'
import type { Db } from '../db/open.ts'
import { listLoomSteps } from '../loom/queries.ts'
import type { Piece } from '../piece/queries.ts'
import type { SittingForm } from '../sitting/form.ts'
import { listSittings, type MadeFrom } from '../sitting/queries.ts'
import { toLocal } from '../sitting/time.ts'
import { findLimits } from './limit-queries.ts'
import { listLeftOut, listTimesOf, listWrittenSteps, toMakers } from './queries.ts'

/** A sitting that the steps at the loom tell, and that nobody has approved yet. */
export interface Proposal extends StepSitting {
  /** Names it for as long as the steps say the same. */
  readonly key: string
  readonly maker: string
  readonly zone: string
  /** The local day on which it started. */
  readonly day: string
  /** The last step is so recent that the sitting may go on. */
  readonly mayGoOn: boolean
  /** Minutes of sittings of that day and maker that are known by their minutes alone: perhaps the same work. */
  readonly untimedMinutes: number
}

export interface Proposals {
  readonly proposals: readonly Proposal[]
  readonly rest: readonly (StepRest & { readonly zone: string })[]
  /** How many steps the piece has in all. */
  readonly steps: number
}

export function listProposals(db: Db, piece: Piece, now: Date): Proposals {
  const steps = listLoomSteps(db, piece.id)
  if (steps.length === 0) return { proposals: [], rest: [], steps: 0 }
  const { limits } = findLimits(db, piece.id)
  const noted = [...listWrittenSteps(db, piece.id), ...listLeftOut(db, piece.id)]
  const sittings = listSittings(db, piece.id)
  const proposals: Proposal[] = []
  const rest: (StepRest & { zone: string })[] = []
  for (const [maker, own] of toMakers(db, piece, steps)) {
    const zones = new Map(own.map(({ at, zone }) => [at, zone]))
    const zoneAt = (at: string) => zones.get(at) ?? own[0]?.zone ?? 'UTC'
    const last = own.at(-1)?.at ?? ''
    const told = sittingsFromSteps(own, limits, { ...listTimesOf(db, maker, piece.id), steps: noted })
    for (const sitting of told.sittings) {
      const zone = zoneAt(sitting.stepsFrom)
      const { day } = toLocal(sitting.startedAt, zone)
      const untimed = sittings.filter(
        (one) =>
          one.startedAt === undefined && one.day === day && isSame(one.maker, maker) && one.stage === sitting.stage,
      )
      proposals.push({
        ...{ ...sitting, maker, zone, day, key: `${sitting.stepsFrom}~${sitting.stepsTo}~${sitting.stage}` },
        mayGoOn: sitting.stepsTo === last && now.getTime() - Date.parse(last) < limits.endMinutes * 60_000,
        untimedMinutes: untimed.reduce((sum, { minutes }) => sum + minutes, 0),
      })
    }
    rest.push(...told.rest.map((one) => ({ ...one, zone: zoneAt(one.from) })))
  }
  proposals.sort((left, right) => (left.startedAt < right.startedAt ? -1 : 1))
  return { proposals, rest, steps: steps.length }
}

/** The proposal of that key; undefined once it is approved, left out, or more steps have come. */
export const findProposal = (db: Db, piece: Piece, key: string, now: Date): Proposal | undefined =>
  listProposals(db, piece, now).proposals.find((proposal) => proposal.key === key)

/** A proposal as the sitting that it would be. */
export function toSittingForm(proposal: Proposal): SittingForm {
  const { stage, maker, zone, day, startedAt, endedAt, minutes, breakMinutes, picks } = proposal
  return {
    ...{ stage, maker, zone, day, startedAt, endedAt, minutes, breakMinutes, picks },
    ...{ repeats: undefined, lengthMm: undefined, note: '' },
  }
}

/** What is kept of the steps beside the sitting. */
export function toMadeFrom(proposal: Proposal): MadeFrom {
  const { stage, startedAt, endedAt, breakMinutes, picks, stepsFrom: from, stepsTo: to } = proposal
  return { origin: 'steps', said: { stage, startedAt, endedAt, breakMinutes, picks }, steps: { from, to } }
}

const isSame = (left: string, right: string) => left.toLowerCase() === right.toLowerCase()
