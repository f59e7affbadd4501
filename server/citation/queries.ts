import { readLocator } from '../../shared/source/locator.ts'
import { toCslItem } from '../../shared/source/to-csl.ts'
import type { Db } from '../db/open.ts'
import { toSource, type Source } from '../source/queries.ts'
import { ENGINE, FIRST_STYLE, isStyleKey, STYLE_KEYS, type StyleKey } from './style.ts'
import type { Printed, PrintJob } from './task.ts'

/** A source that is to be printed anew in a style, with the places in it that claims name. */
export interface DueJob extends PrintJob {
  readonly sourceId: number
  readonly version: number
  readonly style: StyleKey
  readonly places: readonly string[]
}

/** So many at once: what they make is written in one go, and others are asked in between. */
const AT_ONCE = 40

/**
 * What is not printed yet, or was printed from other words or by another engine: of every source, whoever it is of. Asked
 * by the program itself; nobody sees it.
 */
export function listDue(db: Db): DueJob[] {
  for (const style of STYLE_KEYS) {
    const rows = db.raw
      .prepare<[string, string, string, string, number], { id: number }>(
        `select s.id from source s where s.deleted_at is null and (
          not exists (select 1 from source_reference r where r.source_id = s.id and r.style = ? and r.locator = ''
            and r.engine = ? and r.source_version = s.version)
          or exists (select 1 from claim c where c.source_id = s.id and c.locator <> '' and not exists (
            select 1 from source_reference r where r.source_id = s.id and r.style = ? and r.locator = c.locator
              and r.engine = ? and r.source_version = s.version)))
        order by s.id limit ?`,
      )
      .all(style, ENGINE, style, ENGINE, AT_ONCE)
    if (rows.length > 0) return rows.flatMap(({ id }) => jobOf(db, id, style))
  }
  return []
}

function jobOf(db: Db, id: number, style: StyleKey): DueJob[] {
  const row = db.first(db.sql.selectFrom('source').selectAll().where('id', '=', id))
  if (!row) return []
  const places = db
    .all(
      db.sql
        .selectFrom('claim')
        .select('locator')
        .distinct()
        .where('source_id', '=', id)
        .where('locator', '<>', '')
        .orderBy('locator'),
    )
    .map(({ locator }) => locator)
  const source = toSource(row)
  const item = toCslItem(source, source.other, String(id))
  return [{ sourceId: id, version: row.version, style, places, item, locators: places.map(readLocator) }]
}

/** Keeps what was printed; what was printed of the source before goes. */
export function keepPrinted(db: Db, jobs: readonly DueJob[], printed: readonly Printed[]): void {
  db.write(() => {
    for (const [at, { sourceId, version, style, places }] of jobs.entries()) {
      const made = printed[at]
      // A source that was purged meanwhile takes no reference any more.
      const stands = db.first(db.sql.selectFrom('source').select('id').where('id', '=', sourceId))
      if (!made || !stands) continue
      db.run(db.sql.deleteFrom('source_reference').where('source_id', '=', sourceId).where('style', '=', style))
      const row = { source_id: sourceId, style, engine: ENGINE, source_version: version }
      const rows = [
        { ...row, locator: '', entry: made.entry, citation: made.citation },
        ...places.map((locator, each) => ({ ...row, locator, entry: '', citation: made.located[each] ?? '' })),
      ]
      for (const values of rows) db.run(db.sql.insertInto('source_reference').values(values))
    }
  })
}

/** What a style prints of a source, where it is printed already; the caller asked for the source before. */
export function findPrinted(
  db: Db,
  source: Pick<Source, 'id'>,
  style: StyleKey,
  locator = '',
): { entry: string; citation: string } | undefined {
  return db.first(
    db.sql
      .selectFrom('source_reference')
      .innerJoin('source', 'source.id', 'source_reference.source_id')
      .select(['source_reference.entry', 'source_reference.citation'])
      .where('source_reference.source_id', '=', source.id)
      .where('source_reference.style', '=', style)
      .where('source_reference.locator', '=', locator)
      .where('source_reference.engine', '=', ENGINE)
      .whereRef('source_reference.source_version', '=', 'source.version'),
  )
}

/** The style that this notebook cites in, where a reader has not chosen. */
export function notebookStyle(db: Db): StyleKey {
  const style = db.first(db.sql.selectFrom('citation_style').select('style'))?.style
  return isStyleKey(style) ? style : FIRST_STYLE
}

export function setNotebookStyle(db: Db, style: StyleKey): void {
  db.write(() => {
    db.run(db.sql.deleteFrom('citation_style'))
    db.run(db.sql.insertInto('citation_style').values({ id: 1, style }))
  })
}
