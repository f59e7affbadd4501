import type { Selectable } from 'kysely'
import type { Basis, Blank, State } from '../../shared/measure/claim-word.ts'
import type { Unit } from '../../shared/measure/unit.ts'
import type { Db } from '../db/open.ts'
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

export function findClaim(db: Db, id: number): Claim | undefined {
  const row = db.first(selectClaims(db).where('claim.id', '=', id))
  return row && toClaim(row)
}

/** All claims about a subject, withdrawn ones too, in the order in which they were made. */
export function listClaims(db: Db, subject: Subject): Claim[] {
  return db
    .all(selectClaims(db).where(subjectColumn(subject), '=', subjectId(subject)).orderBy('claim.id'))
    .map(toClaim)
}

/**
 * What the maker goes by: the working claim of each feature and part. Where there is none but a blank stands, the newest
 * blank, so that a comparison can say which silence it is.
 */
export function listWorkingClaims(db: Db, subject: Subject): Claim[] {
  const chosen = new Map<string, Claim>()
  for (const claim of listClaims(db, subject).filter((each) => each.withdrawnOn === null)) {
    const key = JSON.stringify([claim.feature, claim.part])
    if (claim.isWorking || (claim.kind === 'blank' && !chosen.get(key)?.isWorking)) chosen.set(key, claim)
  }
  return [...chosen.values()]
}

/**
 * Adds a claim. It is the working one when the form says so, or when it is the first with a value of its feature and part.
 * @param at the instant of writing, ISO in UTC
 * @param correctsId the claim that it corrects; that one stays
 */
export function insertClaim(db: Db, subject: Subject, form: ClaimForm, at: string, correctsId?: number): number {
  return db.write(() => {
    const isFirst = form.kind !== 'blank' && !findWorking(db, subject, form.feature, form.part)
    const { id } = db.run(db.sql.insertInto('claim').values(toRow(subject, form, at, correctsId)))
    if (form.isWorking || isFirst) setWorking(db, id, '')
    return id
  })
}

/** Makes a claim the working one of its feature and part, in place of the one that was. A blank may be it too. */
export function setWorking(db: Db, id: number, reason: string): 'done' | 'absent' | 'withdrawn' {
  return db.write(() => {
    const claim = findClaim(db, id)
    if (!claim) return 'absent'
    if (claim.withdrawnOn !== null) return 'withdrawn'
    db.run(
      db.sql
        .updateTable('claim')
        .set({ working: 0 })
        .where(subjectColumn(claim.subject), '=', subjectId(claim.subject))
        .where('feature', '=', claim.feature)
        .where('part', '=', claim.part)
        .where('working', '=', 1),
    )
    db.run(db.sql.updateTable('claim').set({ working: 1, working_reason: reason }).where('id', '=', id))
    return 'done'
  })
}

/** A claim taken back stays on record with the reason; nothing takes its place as the working one by itself. */
export function withdrawClaim(db: Db, id: number, reason: string, on: string): 'done' | 'absent' | 'withdrawn' {
  return db.write(() => {
    const claim = findClaim(db, id)
    if (!claim) return 'absent'
    if (claim.withdrawnOn !== null) return 'withdrawn'
    const withdrawn = { working: 0, withdrawn_on: on, withdrawn_reason: reason } as const
    db.run(db.sql.updateTable('claim').set(withdrawn).where('id', '=', id))
    return 'done'
  })
}

/** The name of the original or piece that a claim is about. */
export function findSubjectName(db: Db, subject: Subject): string | undefined {
  if ('originalId' in subject)
    return db.first(db.sql.selectFrom('original').select('name').where('id', '=', subject.originalId))?.name
  return db.first(db.sql.selectFrom('piece').select('name').where('id', '=', subject.pieceId))?.name
}

function findWorking(db: Db, subject: Subject, feature: string, part: string) {
  return db.first(
    db.sql
      .selectFrom('claim')
      .select('id')
      .where(subjectColumn(subject), '=', subjectId(subject))
      .where('feature', '=', feature)
      .where('part', '=', part)
      .where('working', '=', 1),
  )
}

const subjectColumn = (subject: Subject) => ('originalId' in subject ? 'claim.original_id' : 'claim.piece_id')
const subjectId = (subject: Subject) => ('originalId' in subject ? subject.originalId : subject.pieceId)

function selectClaims(db: Db) {
  return db.sql
    .selectFrom('claim')
    .leftJoin('source', 'source.id', 'claim.source_id')
    .selectAll('claim')
    .select(['source.title as source_title', 'source.people as source_people', 'source.year as source_year'])
}

function toRow(subject: Subject, form: ClaimForm, at: string, correctsId: number | undefined) {
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

interface JoinedRow extends Selectable<ClaimRow> {
  source_title: string | null
  source_people: string | null
  source_year: string | null
}

function toClaim(row: JoinedRow): Claim {
  const { id, feature, part, kind, value, low, high, words, readings, n, u, resolution, locator, reason } = row
  return {
    ...{ id, feature, part, kind, value, low, high, words, readings, n, u, resolution, locator, reason },
    subject: row.original_id === null ? { pieceId: row.piece_id ?? 0 } : { originalId: row.original_id },
    blank: row.blank as Blank | null,
    unit: row.unit as Unit | '',
    state: row.state as State,
    basis: row.basis as Basis,
    claimedBy: row.claimed_by,
    source:
      row.source_id === null
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
