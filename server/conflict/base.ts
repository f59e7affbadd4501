import type { Db } from '../db/open.ts'
import { columnOf, type Edited } from './nouns.ts'

/** What stood in a form's fields at an earlier version: the log of changes read backwards. Unchanged fields are left out. */
export function listBase(
  db: Db,
  noun: Edited,
  id: number,
  version: number,
  names: readonly string[],
): Record<string, string> {
  const later = db.all(
    db.sql
      .selectFrom('change')
      .select('fields')
      .where('kind', '=', noun)
      .where('item_id', '=', id)
      .where('version', '>', version)
      .orderBy('id', 'desc'),
  )
  const before: Record<string, unknown> = {}
  for (const { fields } of later) {
    for (const [column, [was]] of Object.entries(JSON.parse(fields) as Record<string, [unknown, unknown]>))
      before[column] = was
  }
  return Object.fromEntries(
    names.flatMap((name) => {
      const column = columnOf(name)
      return Object.hasOwn(before, column) ? [[name, String(before[column] ?? '')]] : []
    }),
  )
}

/** Who saved last, and when; undefined when the log does not say. */
export function findSave(db: Db, noun: Edited, id: number): { who: string; at: string } | undefined {
  const row = db.first(
    db.sql
      .selectFrom('change')
      .leftJoin('member', 'member.id', 'change.member_id')
      .select(['change.at', 'member.name'])
      .where('kind', '=', noun)
      .where('item_id', '=', id)
      .orderBy('change.id', 'desc')
      .limit(1),
  )
  return row && { who: row.name ?? '', at: row.at }
}
