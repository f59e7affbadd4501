import type { Selectable } from 'kysely'
import { ASPECT_PLACES, ASPECTS, findSpot, spotKey, type Aspect, type Place } from '../../shared/fidelity/aspect.ts'
import type { Reason, Relation } from '../../shared/fidelity/relation.ts'
import type { Judged } from '../../shared/fidelity/total.ts'
import { toBin } from '../bin/queries.ts'
import { requireUnchanged } from '../conflict/stale.ts'
import type { JudgementRow } from '../db/fidelity-tables.ts'
import type { Db } from '../db/open.ts'
import type { JudgementForm } from './form.ts'

/** What the maker found of one aspect of a piece at one place. */
export interface Judgement extends JudgementForm {
  readonly id: number
  readonly pieceId: number
  readonly aspect: Aspect
  readonly place: Place
}

export function findJudgement(db: Db, id: number): Judgement | undefined {
  const row = db.first(db.sql.selectFrom('judgement').selectAll().where('id', '=', id).where('deleted_at', 'is', null))
  return row && toJudgement(row)
}

/** Those of one piece, in no order. Whether its page may be seen is asked before. */
export function listJudgements(db: Db, pieceId: number): Judgement[] {
  const query = db.sql.selectFrom('judgement').selectAll().where('piece_id', '=', pieceId)
  return db.all(query.where('deleted_at', 'is', null)).map(toJudgement)
}

/** Those of several pieces at once, by piece. */
export function listJudgementsOf(db: Db, pieceIds: readonly number[]): ReadonlyMap<number, Judgement[]> {
  const byPiece = new Map<number, Judgement[]>(pieceIds.map((id) => [id, []]))
  if (pieceIds.length === 0) return byPiece
  const query = db.sql.selectFrom('judgement').selectAll().where('piece_id', 'in', pieceIds)
  for (const row of db.all(query.where('deleted_at', 'is', null))) byPiece.get(row.piece_id)!.push(toJudgement(row))
  return byPiece
}

/** @returns the id; undefined when that aspect of the piece is judged already */
export function insertJudgement(db: Db, pieceId: number, form: JudgementForm, at: string): number | undefined {
  return db.write(() => {
    const { aspect, place } = findSpot(form.spot)!
    const standing = db.sql.selectFrom('judgement').select('id').where('piece_id', '=', pieceId)
    if (db.first(standing.where('aspect', '=', aspect).where('place', '=', place).where('deleted_at', 'is', null)))
      return undefined
    const row = { piece_id: pieceId, aspect, place, ...toRow(form), created_at: at, updated_at: at }
    return db.run(db.sql.insertInto('judgement').values(row)).id
  })
}

/** The aspect and place of a judgement stay as they are. @returns false when there is no such judgement */
export function updateJudgement(db: Db, id: number, form: JudgementForm, at: string): boolean {
  requireUnchanged(db, 'judgement', id)
  const set = { ...toRow(form), updated_at: at }
  const query = db.sql.updateTable('judgement').set((e) => ({ ...set, version: e('version', '+', 1) }))
  return db.run(query.where('id', '=', id)).changes === 1
}

export const deleteJudgement = (db: Db, id: number, at: string): boolean => toBin(db, 'judgement', id, at)

/**
 * Every aspect at each of its places, for a total: where nobody has judged one it is not judged yet, and borders count
 * apart only once somebody has said something of them.
 */
export function toJudged(judgements: readonly Pick<Judgement, 'aspect' | 'place' | 'relation'>[]): Judged[] {
  return ASPECTS.flatMap((aspect) => {
    const { always, apart } = ASPECT_PLACES[aspect]
    const find = (place: Place) => judgements.find((one) => one.aspect === aspect && one.place === place)
    return [
      ...always.map((place) => ({ aspect, place, relation: find(place)?.relation ?? ('notJudged' as const) })),
      ...apart.flatMap((place) => {
        const found = find(place)
        return found ? [{ aspect, place, relation: found.relation }] : []
      }),
    ]
  })
}

function toRow(form: JudgementForm) {
  const { known, used, relation, reasonKind, reason, look, size, hand, wear, labelWords } = form
  return { known, used, relation, reason_kind: reasonKind, reason, look, size, hand, wear, label_words: labelWords }
}

function toJudgement(row: Selectable<JudgementRow>): Judgement {
  const { id, known, used, reason, look, size, hand, wear } = row
  const [aspect, place] = [row.aspect as Aspect, row.place as Place]
  return {
    ...{ id, pieceId: row.piece_id, aspect, place, spot: spotKey({ aspect, place }) },
    ...{ known, used, relation: row.relation as Relation, reasonKind: row.reason_kind as Reason | '', reason },
    ...{ look, size, hand, wear, labelWords: row.label_words },
  }
}
