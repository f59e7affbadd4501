import type { Selectable } from 'kysely'
import { toBin } from '../bin/queries.ts'
import { requireUnchanged } from '../conflict/stale.ts'
import type { Db } from '../db/open.ts'
import type { SourceRow } from '../db/tables.ts'
import { readable } from '../rights/readable.ts'
import { currentMemberId } from '../rights/viewer.ts'
import type { OtherCsl } from '../../shared/source/words.ts'
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
  readonly editors: string
  readonly volume: string
  readonly issue: string
  readonly publisher: string
  readonly place: string
  readonly edition: string
  readonly issn: string
  readonly accessedOn: string
  readonly citeKey: string
  readonly notes: string
  /** What an imported item said beyond these fields. */
  readonly other: OtherCsl
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

/** @param other what an imported item says beyond the form's fields */
export function insertSource(db: Db, form: SourceForm, at: string, demo: 0 | 1 = 0, other: OtherCsl = {}): number {
  const kept = { other_csl: writeOther(other), demo, owner_id: currentMemberId(), created_at: at, updated_at: at }
  return db.run(db.sql.insertInto('source').values({ ...toColumns(form), ...kept })).id
}

/**
 * @param other in the place of what was kept beyond the form's fields; what there is stays without it
 * @returns false when there is no such source
 */
export function updateSource(db: Db, id: number, form: SourceForm, at: string, other?: OtherCsl): boolean {
  requireUnchanged(db, 'source', id)
  const more = other === undefined ? {} : { other_csl: writeOther(other) }
  return (
    db.run(
      db.sql
        .updateTable('source')
        .set((e) => ({ ...toColumns(form), ...more, updated_at: at, version: e('version', '+', 1) }))
        .where('id', '=', id),
    ).changes === 1
  )
}

const toColumns = ({ accessedOn, citeKey, ...form }: SourceForm) => ({
  ...form,
  accessed_on: accessedOn,
  cite_key: citeKey,
})
const writeOther = (other: OtherCsl) => (Object.keys(other).length === 0 ? '' : JSON.stringify(other))

/** Every source that the viewer may see, whole, by its title. */
export function listSources(db: Db): Source[] {
  const query = db.sql.selectFrom('source').selectAll().where(readable('source')).orderBy('title').orderBy('id')
  return db.all(query).map(toSource)
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

/** The one place where a row becomes a source. */
export function toSource(row: Selectable<SourceRow>): Source {
  const { id, title, people, year, container, pages, doi, isbn, url, notes } = row
  const { editors, volume, issue, publisher, place, edition, issn } = row
  return {
    ...{ id, title, people, year, container, pages, doi, isbn, url, notes },
    ...{ editors, volume, issue, publisher, place, edition, issn },
    kind: row.kind as SourceKind,
    accessedOn: row.accessed_on,
    citeKey: row.cite_key,
    other: row.other_csl === '' ? {} : (JSON.parse(row.other_csl) as OtherCsl),
    demo: row.demo === 1,
  }
}
