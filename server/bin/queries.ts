import { sql } from 'kysely'
import type { Db } from '../db/open.ts'
import { rawRows } from '../db/raw.ts'
import { isOwn, type Owned } from '../rights/readable.ts'

/** What lies in the bin for a while before it is gone. */
export const BINNED = [
  ...(['source', 'original', 'draft', 'piece', 'sitting', 'photo', 'observed', 'yarn', 'lot'] as const),
  ...(['judgement', 'decision', 'weighting', 'quote'] as const),
]
export type Binned = (typeof BINNED)[number]

/** Days that the bin keeps what is thrown away. */
export const BIN_DAYS = 30

export interface BinEntry {
  readonly kind: Binned
  readonly id: number
  readonly name: string
  readonly deletedAt: string
}

/** Puts a thing in the bin, with all that belongs to it. @returns false when it is not there, or in the bin already */
export function toBin(db: Db, kind: Binned, id: number, at: string): boolean {
  const { changes } = db.run(
    db.sql
      .updateTable(kind)
      .set((e) => ({ deleted_at: at, version: e('version', '+', 1) }))
      .where('id', '=', id)
      .where('deleted_at', 'is', null),
  )
  return changes === 1
}

/**
 * Takes a thing out of the bin, and what it rests on with it: a piece needs its original and its draft.
 * @returns false when it is not in the bin
 */
export function fromBin(db: Db, kind: Binned, id: number): boolean {
  return db.write(() => {
    const { changes } = db.run(
      db.sql
        .updateTable(kind)
        .set((e) => ({ deleted_at: null, version: e('version', '+', 1) }))
        .where('id', '=', id)
        .where('deleted_at', 'is not', null),
    )
    if (changes === 0) return false
    for (const under of listUnder(db, kind, id)) fromBin(db, under.kind, under.id)
    return true
  })
}

/** Everything in the bin that is the viewer's, the latest first. */
export function listBin(db: Db): BinEntry[] {
  const owned = (table: Owned, name: string) =>
    sql`select ${sql.lit(table)} as kind, x.id, x.${sql.ref(name)} as name, x.deleted_at as "deletedAt"
      from ${sql.table(table)} x where x.deleted_at is not null and ${isOwn(table, 'x')}`
  const pieceOwn = isOwn('piece', 'p')
  return rawRows(
    db,
    sql<BinEntry>`${owned('source', 'title')} union all ${owned('original', 'name')} union all ${owned('draft', 'title')}
      union all ${owned('piece', 'name')} union all ${owned('yarn', 'name')}
      union all select 'quote', q.id, 'Quote: ' || coalesce(json_extract(q.entered, '$.title'), ''), q.deleted_at from quote q
        where q.deleted_at is not null and ${isOwn('quote', 'q')}
      union all ${owned('weighting', 'name')}
      union all select 'lot', l.id, y.name || ', ' || l.colour_name, l.deleted_at from lot l join yarn y on y.id = l.yarn_id
        where l.deleted_at is not null and y.deleted_at is null and ${isOwn('yarn', 'y')}
      union all select 'sitting', s.id, 'Sitting of ' || s.day || ', ' || p.name, s.deleted_at from sitting s
        join piece p on p.id = s.piece_id where s.deleted_at is not null and p.deleted_at is null and ${pieceOwn}
      union all select 'photo', f.id, 'Photograph' || iif(f.caption = '', '', ': ' || f.caption), f.deleted_at from photo f
        left join piece p on p.id = f.piece_id left join original o on o.id = f.original_id
        where f.deleted_at is not null and ((p.id is not null and p.deleted_at is null and ${pieceOwn})
          or (o.id is not null and o.deleted_at is null and ${isOwn('original', 'o')}))
      union all select 'observed', f.id, 'Observed face' || iif(f.note = '', '', ': ' || f.note) || ', ' || coalesce(p.name, o.name), f.deleted_at
        from observed f left join piece p on p.id = f.piece_id left join original o on o.id = f.original_id
        where f.deleted_at is not null and ((p.id is not null and p.deleted_at is null and ${pieceOwn})
          or (o.id is not null and o.deleted_at is null and ${isOwn('original', 'o')}))
      union all select 'judgement', j.id, 'Judgement of ' || j.aspect || ', ' || p.name, j.deleted_at from judgement j
        join piece p on p.id = j.piece_id where j.deleted_at is not null and p.deleted_at is null and ${pieceOwn}
      union all select 'decision', d.id, 'Decision: ' || d.question, d.deleted_at from decision d
        left join piece p on p.id = d.piece_id left join original o on o.id = d.original_id
        where d.deleted_at is not null and ((p.id is not null and p.deleted_at is null and ${pieceOwn})
          or (o.id is not null and o.deleted_at is null and ${isOwn('original', 'o')}))
      order by 4 desc, 1, 2`,
  )
}

export const findInBin = (db: Db, kind: string, id: number): BinEntry | undefined =>
  listBin(db).find((entry) => entry.kind === kind && entry.id === id)

/** Gone for good. What something else still rests on stays in the bin. @returns whether it is gone */
export function purge(db: Db, kind: Binned, id: number): boolean {
  try {
    return db.run(db.sql.deleteFrom(kind).where('id', '=', id).where('deleted_at', 'is not', null)).changes === 1
  } catch (error) {
    if (error instanceof Error && 'code' in error && String(error.code).startsWith('SQLITE_CONSTRAINT')) return false
    throw error
  }
}

/** Empties the bin of everything thrown away before `limit`, what rests on other things first. @returns how many are gone */
export function purgeBefore(db: Db, limit: string): number {
  const order: readonly Binned[] = [
    'quote',
    'weighting',
    'judgement',
    'decision',
    'observed',
    'photo',
    'sitting',
    'piece',
    'draft',
    'original',
    'source',
    'lot',
    'yarn',
  ]
  return db.write(() =>
    order
      .flatMap((kind) => {
        const rows = db.all(db.sql.selectFrom(kind).select('id').where('deleted_at', '<', limit))
        return rows.map(({ id }) => purge(db, kind, id))
      })
      .reduce((gone, isGone) => gone + Number(isGone), 0),
  )
}

function listUnder(db: Db, kind: Binned, id: number): { kind: Binned; id: number }[] {
  if (kind !== 'piece') return []
  const row = db.first(
    db.sql
      .selectFrom('piece')
      .leftJoin('draft_revision', 'draft_revision.id', 'piece.draft_revision_id')
      .select(['piece.original_id as originalId', 'draft_revision.draft_id as draftId'])
      .where('piece.id', '=', id),
  )
  const under = (which: Binned, at: number | null | undefined) => (at ? [{ kind: which, id: at }] : [])
  return [...under('original', row?.originalId), ...under('draft', row?.draftId)]
}
