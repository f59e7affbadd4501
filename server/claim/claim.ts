import type { Selectable } from 'kysely'
import type { Basis, Blank, State } from '../../shared/measure/claim-word.ts'
import type { Unit } from '../../shared/measure/unit.ts'
import type { ClaimRow } from '../db/tables.ts'
import type { ClaimForm } from './form.ts'
import type { ClaimKind } from './kind.ts'

/** What a claim is about; both sorts are kept, shown and read by the same code. */
export type Subject = { readonly originalId: number } | { readonly pieceId: number }

/** One value of one feature, or the reason why there is none. Numbers are decimals as typed, with a point. */
export interface Claim {
  readonly id: number
  readonly subject: Subject
  readonly feature: string
  /** Which yarn or part it is about; empty for the whole. */
  readonly part: string
  readonly kind: ClaimKind
  readonly value: string | null
  /** Ends of a range; one of them may be missing. */
  readonly low: string | null
  readonly high: string | null
  readonly words: string | null
  /** As typed, in `unit`. */
  readonly readings: string | null
  readonly blank: Blank | null
  /** Empty for words. */
  readonly unit: Unit | ''
  readonly n: number | null
  /** Standard uncertainty in `unit`. */
  readonly u: string | null
  /** Smallest step of the ruler, a full width: in `unit`, for densities in mm (they are counted over a length). */
  readonly resolution: string | null
  readonly state: State
  readonly basis: Basis
  readonly claimedBy: string
  readonly source: {
    readonly id: number
    readonly title: string
    readonly people: string
    readonly year: string
  } | null
  /** It names a source that the viewer may not see; neither that nor the place in it is told. */
  readonly isSourceHidden: boolean
  readonly locator: string
  readonly claimedOn: string | null
  readonly reason: string
  readonly correctsId: number | null
  readonly isWorking: boolean
  readonly workingReason: string
  /** Day on which it was withdrawn; null while it stands. */
  readonly withdrawnOn: string | null
  readonly withdrawnReason: string
}

export function toRow(subject: Subject, form: ClaimForm, at: string, correctsId: number | undefined) {
  return {
    original_id: 'originalId' in subject ? subject.originalId : null,
    piece_id: 'pieceId' in subject ? subject.pieceId : null,
    feature: form.feature,
    part: form.part,
    kind: form.kind,
    value: form.value ?? null,
    low: form.low ?? null,
    high: form.high ?? null,
    words: form.words ?? null,
    readings: form.readings ?? null,
    blank: form.blank ?? null,
    unit: form.unit,
    n: form.n ?? null,
    u: form.u ?? null,
    resolution: form.resolution ?? null,
    state: form.state,
    basis: form.basis,
    claimed_by: form.claimedBy,
    source_id: form.sourceId ?? null,
    locator: form.locator,
    claimed_on: form.claimedOn ?? null,
    reason: form.reason,
    corrects_id: correctsId ?? null,
    working_reason: '',
    withdrawn_reason: '',
    created_at: at,
  }
}

/** A claim with what is shown of its source. */
export interface JoinedRow extends Selectable<ClaimRow> {
  source_title: string | null
  source_people: string | null
  source_year: string | null
}

/** The one place where a row becomes a claim. */
export function toClaim(row: JoinedRow): Claim {
  const { id, feature, part, kind, value, low, high, words, readings, n, u, resolution, reason } = row
  const isSourceHidden = row.source_id !== null && row.source_title === null
  return {
    ...{ id, feature, part, kind, value, low, high, words, readings, n, u, resolution, reason, isSourceHidden },
    locator: isSourceHidden ? '' : row.locator,
    subject: row.original_id === null ? { pieceId: row.piece_id ?? 0 } : { originalId: row.original_id },
    blank: row.blank as Blank | null,
    unit: row.unit as Unit | '',
    state: row.state as State,
    basis: row.basis as Basis,
    claimedBy: row.claimed_by,
    source:
      row.source_id === null || isSourceHidden
        ? null
        : {
            id: row.source_id,
            title: row.source_title ?? '',
            people: row.source_people ?? '',
            year: row.source_year ?? '',
          },
    claimedOn: row.claimed_on,
    correctsId: row.corrects_id,
    isWorking: row.working === 1,
    workingReason: row.working_reason,
    withdrawnOn: row.withdrawn_on,
    withdrawnReason: row.withdrawn_reason,
  }
}
