import type { Selectable } from 'kysely'
import { toBin } from '../bin/queries.ts'
import { requireUnchanged } from '../conflict/stale.ts'
import type { Db } from '../db/open.ts'
import type { SourceRow } from '../db/tables.ts'
import { readable } from '../rights/readable.ts'
import { currentMemberId } from '../rights/viewer.ts'
import type { SourceForm, SourceKind } from './form.ts'

export interface Source {
  readonly id: number
  readonly title: string
  readonly people: string
  readonly year: string
  readonly kind: SourceKind
  readonly container: string
  readonly pages: string
  readonly doi: string
  readonly isbn: string
  readonly url: string
  readonly notes: string
  readonly demo: boolean
}

export function findSource(db: Db, id: number): Source | undefined {
  const row = db.first(db.sql.selectFrom('source').selectAll().where('id', '=', id).where(readable('source')))
  return row && toSource(row)
}

/** Every source by its title, for the list one chooses from. */
export function listSourceChoices(db: Db): { id: number; title: string; people: string; year: string }[] {
  return db.all(
    db.sql
      .selectFrom('source')
      .select(['id', 'title', 'people', 'year'])
      .where(readable('source'))
      .orderBy('title')
      .orderBy('id'),
  )
}

export function insertSource(db: Db, form: SourceForm, at: string, demo: 0 | 1 = 0): number {
  return db.run(
    db.sql.insertInto('source').values({ ...form, demo, owner_id: currentMemberId(), created_at: at, updated_at: at }),
  ).id
}

/** @returns false when there is no such source */
export function updateSource(db: Db, id: number, form: SourceForm, at: string): boolean {
  requireUnchanged(db, 'source', id)
  return (
    db.run(
      db.sql
        .updateTable('source')
        .set((e) => ({ ...form, updated_at: at, version: e('version', '+', 1) }))
        .where('id', '=', id),
    ).changes === 1
  )
}

/** A source that claims rest on stays; the count says how many do. */
export function deleteSource(
  db: Db,
  id: number,
  at: string,
): { outcome: 'deleted' | 'absent' } | { outcome: 'cited'; claims: number } {
  return db.write(() => {
    const { claims } = db.first(
      db.sql
        .selectFrom('claim')
        .select((e) => e.fn.countAll<number>().as('claims'))
        .where('source_id', '=', id),
    ) ?? { claims: 0 }
    if (claims > 0) return { outcome: 'cited', claims } as const
    return { outcome: toBin(db, 'source', id, at) ? 'deleted' : 'absent' } as const
  })
}

/** The originals and pieces that claims from this source are about, with the number of those claims. */
export function listCitations(
  db: Db,
  id: number,
): { kind: 'original' | 'piece'; id: number; name: string; claims: number }[] {
  const originals = db.all(
    db.sql
      .selectFrom('claim')
      .innerJoin('original', 'original.id', 'claim.original_id')
      .select((e) => ['original.id', 'original.name', e.fn.countAll<number>().as('claims')])
      .where('claim.source_id', '=', id)
      .where(readable('original'))
      .groupBy('original.id')
      .orderBy('original.name'),
  )
  const pieces = db.all(
    db.sql
      .selectFrom('claim')
      .innerJoin('piece', 'piece.id', 'claim.piece_id')
      .select((e) => ['piece.id', 'piece.name', e.fn.countAll<number>().as('claims')])
      .where('claim.source_id', '=', id)
      .where(readable('piece'))
      .groupBy('piece.id')
      .orderBy('piece.name'),
  )
  return [
    ...originals.map((row) => ({ kind: 'original' as const, ...row })),
    ...pieces.map((row) => ({ kind: 'piece' as const, ...row })),
  ]
}

function toSource(row: Selectable<SourceRow>): Source {
  const { id, title, people, year, container, pages, doi, isbn, url, notes } = row
  return {
    id,
    title,
    people,
    year,
    kind: row.kind as SourceKind,
    container,
    pages,
    doi,
    isbn,
    url,
    notes,
    demo: row.demo === 1,
  }
}
