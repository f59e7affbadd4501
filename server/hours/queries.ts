import type { TimeSpan } from '../../shared/work/step-sitting.ts'
import type { Db } from '../db/open.ts'
import type { LoomStep } from '../loom/queries.ts'
import type { Piece } from '../piece/queries.ts'
import { currentMemberId } from '../rights/viewer.ts'

/** A stretch of steps that is no work of its piece. */
export interface LeftOut extends TimeSpan {
  readonly id: number
}

export function listLeftOut(db: Db, pieceId: number): LeftOut[] {
  const query = db.sql.selectFrom('steps_left_out').select(['id', 'steps_from as from', 'steps_to as to'])
  return db.all(query.where('piece_id', '=', pieceId).orderBy('steps_from').orderBy('id'))
}

export function insertLeftOut(db: Db, pieceId: number, { from, to }: TimeSpan, at: string): void {
  const row = { piece_id: pieceId, member_id: currentMemberId(), steps_from: from, steps_to: to, created_at: at }
  db.run(db.sql.insertInto('steps_left_out').values(row))
}

/** @returns false when the piece has no such stretch */
export function deleteLeftOut(db: Db, pieceId: number, id: number): boolean {
  return db.run(db.sql.deleteFrom('steps_left_out').where('piece_id', '=', pieceId).where('id', '=', id)).changes === 1
}

/** Steps that sittings of the piece were written from, whoever worked and whatever was corrected since. */
export function listWrittenSteps(db: Db, pieceId: number): TimeSpan[] {
  const query = db.sql.selectFrom('sitting').select(['steps_from as from', 'steps_to as to'])
  return db.all(
    query
      .where('piece_id', '=', pieceId)
      .where('deleted_at', 'is', null)
      .where('steps_from', 'is not', null)
      .where('steps_to', 'is not', null)
      .$narrowType<{ from: string; to: string }>(),
  )
}

/** The times of all sittings of a maker that have times, at this piece and elsewhere: whose piece it is does not matter. */
export function listTimesOf(db: Db, maker: string, pieceId: number): { here: TimeSpan[]; elsewhere: TimeSpan[] } {
  const rows = db.all(
    db.sql
      .selectFrom('sitting')
      .innerJoin('piece', 'piece.id', 'sitting.piece_id')
      .select(['sitting.piece_id as pieceId', 'sitting.started_at as from', 'sitting.ended_at as to'])
      .where('sitting.deleted_at', 'is', null)
      .where('piece.deleted_at', 'is', null)
      .where((e) => e(e.fn<string>('lower', ['sitting.maker']), '=', e.fn<string>('lower', [e.val(maker)])))
      .where('sitting.started_at', 'is not', null)
      .where('sitting.ended_at', 'is not', null)
      .$narrowType<{ from: string; to: string }>(),
  )
  const spans = (isHere: boolean) =>
    rows.filter((row) => (row.pieceId === pieceId) === isHere).map(({ from, to }) => ({ from, to }))
  return { here: spans(true), elsewhere: spans(false) }
}

/** A step with the place before it, whoever took that one. */
export type PlacedStep = LoomStep & { readonly from: number }

/**
 * Who took each step, by the name that a sitting has: steps of the piece's owner, of the lone maker and out of an archive are
 * those of the maker of the piece.
 */
export function toMakers(db: Db, piece: Piece, steps: readonly LoomStep[]): Map<string, PlacedStep[]> {
  const owner = db.first(db.sql.selectFrom('piece').select('owner_id').where('id', '=', piece.id))?.owner_id ?? null
  const ids = [...new Set(steps.flatMap(({ memberId }) => memberId ?? []))]
  const query = db.sql.selectFrom('member').select(['id', 'name'])
  const names = new Map(ids.length === 0 ? [] : db.all(query.where('id', 'in', ids)).map(({ id, name }) => [id, name]))
  const makerOf = ({ memberId }: LoomStep) => {
    const name = memberId === undefined ? '' : (names.get(memberId) ?? '')
    return memberId === undefined || memberId === owner ? piece.maker || name : name || piece.maker
  }
  const makers = new Map<string, PlacedStep[]>()
  let from = 0
  for (const step of steps) {
    const maker = makerOf(step)
    const placed = { ...step, from }
    const own = makers.get(maker)
    if (own) own.push(placed)
    else makers.set(maker, [placed])
    from = step.place
  }
  return makers
}
