import { sql, type SqlBool } from 'kysely'
import type { Db } from '../db/open.ts'
import { rawRows } from '../db/raw.ts'
import { KINDS, listStaying, type Kind, type Staying } from './staying.ts'

/** How much of the demo collection is in the notebook. */
export function countDemo(db: Db): Record<Kind, number> {
  const counts = KINDS.map((kind) => sql`(select count(*) from ${sql.table(kind)} where demo = 1) as ${sql.ref(kind)}`)
  return rawRows(db, sql<Record<Kind, number>>`select ${sql.join(counts)}`)[0]!
}

/** Whether anything of the demo collection is in the notebook. */
export function hasDemo(db: Db): boolean {
  return Object.values(countDemo(db)).some((count) => count > 0)
}

/**
 * Takes the demo collection out again. What the maker has added to or changed stays, and so does all that this and the
 * maker's own records point at; it is the maker's own from now on.
 * @returns what stayed
 */
export function removeDemo(db: Db): Staying[] {
  return db.write(() => {
    const staying = listStaying(db)
    for (const { kind, id } of staying) db.run(db.sql.updateTable(kind).set({ demo: 0 }).where('id', '=', id))
    // A quote that the maker has worked on is theirs, with its forecast.
    db.run(
      db.sql.updateTable('quote').set({ demo: 0 }).where('demo', '=', 1).whereRef('updated_at', '<>', 'created_at'),
    )
    const isKept = sql<SqlBool>`id in (select forecast_id from quote where demo = 0)`
    db.run(db.sql.updateTable('forecast').set({ demo: 0 }).where('demo', '=', 1).where(isKept))
    const quotes = db.all(db.sql.selectFrom('quote').select('id').where('demo', '=', 1))
    const gone = [...KINDS.flatMap((kind) => listLogged(db, kind)), ...quotes.map(({ id }) => ({ kind: 'quote', id }))]
    db.run(db.sql.deleteFrom('quote').where('demo', '=', 1))
    db.run(db.sql.deleteFrom('forecast').where('demo', '=', 1))
    for (const kind of KINDS) db.run(db.sql.deleteFrom(kind).where('demo', '=', 1))
    for (const { kind, id } of gone)
      db.run(db.sql.deleteFrom('change').where('kind', '=', kind).where('item_id', '=', id))
    return staying
  })
}

/** What is removed with the demo rows of a kind and has entries in the log of changes, which go too. */
function listLogged(db: Db, kind: Kind): { kind: string; id: number }[] {
  const demo = sql`select id from ${sql.table(kind)} where demo = 1`
  const own = sql`select ${sql.lit(kind)} as kind, id from ${sql.table(kind)} where demo = 1`
  const claims = sql`union all select 'claim', id from claim where ${sql.ref(`${kind}_id`)} in (${demo})`
  const photos = sql`union all select 'photo', id from photo where ${sql.ref(`${kind}_id`)} in (${demo})`
  const observed = sql`union all select 'observed', id from observed where ${sql.ref(`${kind}_id`)} in (${demo})`
  const sittings = sql`union all select 'sitting', id from sitting where piece_id in (${demo})`
  const decisions = sql`union all select 'decision', id from decision where ${sql.ref(`${kind}_id`)} in (${demo})`
  const judgements = sql`union all select 'judgement', id from judgement where piece_id in (${demo})`
  const plans = sql`union all select 'plan', id from plan where piece_id in (${demo})`
  const steps = sql`union all select 'loom_step', id from loom_step where piece_id in (${demo})`
  const rest = {
    source: sql``,
    draft: sql``,
    yarn: sql`union all select 'lot', id from lot where yarn_id in (${demo})
      union all select 'movement', m.id from movement m join lot l on l.id = m.lot_id where l.yarn_id in (${demo})`,
    original: sql`${claims} ${photos} ${observed} ${decisions}`,
    piece: sql`${claims} ${photos} ${observed} ${sittings} ${judgements} ${decisions} ${plans} ${steps}`,
  }[kind]
  return rawRows(db, sql<{ kind: string; id: number }>`${own} ${rest}`)
}
