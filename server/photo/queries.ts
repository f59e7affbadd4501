import { sql, type Selectable } from 'kysely'
import type { Db } from '../db/open.ts'
import { rawRows } from '../db/raw.ts'
import type { PhotoRow } from '../db/people-tables.ts'
import type { PhotoForm } from './form.ts'
import type { StoredPhoto } from './store.ts'

/** What a photograph is of. */
export type PhotoSubject = { readonly noun: 'original' | 'piece'; readonly id: number }

export interface Photo {
  readonly id: number
  readonly subject: PhotoSubject
  readonly caption: string
  /** Which part of the original or the piece; empty for the whole. */
  readonly part: string
  readonly credit: string
  /** A key of `LICENCES`. */
  readonly licence: string
  /** A year, a month or a day. */
  readonly takenOn: string | undefined
  readonly file: string
  readonly width: number
  readonly height: number
  readonly originalBytes: number
  readonly version: number
}

export function findPhoto(db: Db, id: number): Photo | undefined {
  const row = db.first(db.sql.selectFrom('photo').selectAll().where('id', '=', id).where('deleted_at', 'is', null))
  return row && toPhoto(row)
}

/** Of one original or piece, the oldest first. Whether its page may be seen is asked before. */
export function listPhotos(db: Db, { noun, id }: PhotoSubject): Photo[] {
  const rows = db.all(
    db.sql
      .selectFrom('photo')
      .selectAll()
      .where(noun === 'original' ? 'original_id' : 'piece_id', '=', id)
      .where('deleted_at', 'is', null)
      .orderBy('id'),
  )
  return rows.map(toPhoto)
}

export interface Place {
  /** From 1, the oldest first. */
  readonly number: number
  readonly of: number
  readonly previous: { readonly id: number; readonly caption: string } | undefined
  readonly next: { readonly id: number; readonly caption: string } | undefined
}

/** Where a photograph stands among those of the same thing. */
export function findPlace(db: Db, { id, subject }: Pick<Photo, 'id' | 'subject'>): Place {
  const all = listPhotos(db, subject)
  const at = all.findIndex((photo) => photo.id === id)
  const [previous, next] = [all[at - 1], all[at + 1]]
  return { number: at + 1, of: all.length, previous, next }
}

/** The name of what a photograph is of; undefined when it is gone or in the bin. */
export function findSubjectName(db: Db, { noun, id }: PhotoSubject): string | undefined {
  return db.first(db.sql.selectFrom(noun).select('name').where('id', '=', id).where('deleted_at', 'is', null))?.name
}

/** The photograph of the same thing that the same file was sent for already. */
export function findTwin(db: Db, { noun, id }: PhotoSubject, sha256: string): { id: number } | undefined {
  return db.first(
    db.sql
      .selectFrom('photo')
      .select('id')
      .where(noun === 'original' ? 'original_id' : 'piece_id', '=', id)
      .where('sha256', '=', sha256)
      .where('deleted_at', 'is', null),
  )
}

export function insertPhoto(db: Db, subject: PhotoSubject, form: PhotoForm, stored: StoredPhoto, at: string): number {
  return db.run(
    db.sql.insertInto('photo').values({
      original_id: subject.noun === 'original' ? subject.id : null,
      piece_id: subject.noun === 'piece' ? subject.id : null,
      ...toColumns(form),
      file: stored.file,
      sha256: stored.sha256,
      width: stored.width,
      height: stored.height,
      bytes: stored.bytes,
      original_bytes: stored.originalBytes,
      created_at: at,
      updated_at: at,
    }),
  ).id
}

/** @returns false when somebody has saved another version meanwhile, or it is gone */
export function updatePhoto(
  db: Db,
  { id, version }: Pick<Photo, 'id' | 'version'>,
  form: PhotoForm,
  at: string,
): boolean {
  const query = db.sql
    .updateTable('photo')
    .set({ ...toColumns(form), version: version + 1, updated_at: at })
    .where('id', '=', id)
    .where('version', '=', version)
    .where('deleted_at', 'is', null)
  return db.run(query).changes === 1
}

/** Bytes of all photographs, and of those whose things have this owner; what lies in the bin takes room too. */
export function sumPhotoBytes(db: Db, ownerId: number | null): { all: number; owned: number } {
  const rows = rawRows(
    db,
    sql<{ all: number; owned: number }>`select coalesce(sum(p.bytes + p.original_bytes), 0) as "all",
        coalesce(sum(case when coalesce(o.owner_id, x.owner_id) is ${ownerId} then p.bytes + p.original_bytes end), 0) as owned
      from photo p left join original o on o.id = p.original_id left join piece x on x.id = p.piece_id`,
  )
  return rows[0]!
}

function toColumns(form: PhotoForm) {
  const { caption, part, credit, licence, takenOn } = form
  return { caption, part, credit, licence, taken_on: takenOn ?? null }
}

function toPhoto(row: Selectable<PhotoRow>): Photo {
  const subject: PhotoSubject =
    row.original_id === null ? { noun: 'piece', id: row.piece_id! } : { noun: 'original', id: row.original_id }
  return {
    id: row.id,
    subject,
    caption: row.caption,
    part: row.part,
    credit: row.credit,
    licence: row.licence,
    takenOn: row.taken_on ?? undefined,
    file: row.file,
    width: row.width,
    height: row.height,
    originalBytes: row.original_bytes,
    version: row.version,
  }
}
