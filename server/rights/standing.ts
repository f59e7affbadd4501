import { sql } from 'kysely'
import type { Db } from '../db/open.ts'
import { rawRows } from '../db/raw.ts'
import type { Owned } from './readable.ts'
import type { Alone, Standing, Subject } from './rule.ts'

interface Row {
  kind: Owned | 'fibre_density' | Alone
  id: number
  ownerId: number | null
  visibility: Standing['visibility']
  isDeleted: 0 | 1
}

/** Whose a thing is, bin included; undefined when there is none. What belongs to another has that one's standing. */
export function findStanding(db: Db, subject: Subject, id: number): Standing | undefined {
  const row = rawRows(db, QUERIES[subject](id))[0]
  if (!row) return undefined
  const coMakerIds =
    row.kind === 'piece'
      ? db
          .all(db.sql.selectFrom('co_maker').select('member_id').where('piece_id', '=', row.id))
          .map((each) => each.member_id)
      : []
  return { ownerId: row.ownerId, visibility: row.visibility, isDeleted: row.isDeleted === 1, coMakerIds }
}

const owned = (table: Owned) => (id: number) =>
  sql<Row>`select ${sql.lit(table)} as kind, x.id, x.owner_id as "ownerId", x.visibility, x.deleted_at is not null as "isDeleted"
    from ${sql.table(table)} x where x.id = ${id}`

/** Of what nobody but its owner ever sees. */
const alone = (table: Alone) => (id: number) => {
  const isDeleted = table === 'quote' ? sql`x.deleted_at is not null` : sql`0`
  return sql<Row>`select ${sql.lit(table)} as kind, x.id, x.owner_id as "ownerId", 'private' as visibility,
    ${isDeleted} as "isDeleted" from ${sql.table(table)} x where x.id = ${id}`
}

/** Of a row that belongs to an original or a piece; `alsoDeleted` where the row itself can lie in the bin. */
const belonging = (table: 'claim' | 'photo' | 'observed' | 'decision') => (id: number) => {
  const own = table === 'claim' ? sql`` : sql`or c.deleted_at is not null`
  return sql<Row>`select 'original' as kind, x.id, x.owner_id as "ownerId", x.visibility, x.deleted_at is not null ${own} as "isDeleted"
      from ${sql.table(table)} c join original x on x.id = c.original_id where c.id = ${id}
    union all
    select 'piece', x.id, x.owner_id, x.visibility, x.deleted_at is not null ${own}
      from ${sql.table(table)} c join piece x on x.id = c.piece_id where c.id = ${id}`
}

/** Of a lot `c`, or a movement of one. */
const ofYarn = (from: ReturnType<typeof sql>) =>
  sql<Row>`select 'yarn' as kind, x.id, x.owner_id as "ownerId", x.visibility,
    (x.deleted_at is not null or c."deletedAt" is not null) as "isDeleted"
    from (select c.yarn_id, c.deleted_at as "deletedAt" ${from}) c join yarn x on x.id = c.yarn_id`

const QUERIES: Readonly<Record<Subject, (id: number) => ReturnType<typeof sql<Row>>>> = {
  source: owned('source'),
  original: owned('original'),
  draft: owned('draft'),
  piece: owned('piece'),
  yarn: owned('yarn'),
  lot: (id) => ofYarn(sql`from lot c where c.id = ${id}`),
  movement: (id) => ofYarn(sql`from movement m join lot c on c.id = m.lot_id where m.id = ${id}`),
  claim: belonging('claim'),
  photo: belonging('photo'),
  observed: belonging('observed'),
  sitting: (id) => sql<Row>`select 'piece' as kind, x.id, x.owner_id as "ownerId", x.visibility,
      (x.deleted_at is not null or c.deleted_at is not null) as "isDeleted"
    from sitting c join piece x on x.id = c.piece_id where c.id = ${id}`,
  // Nobody sees it but its owner; what it does to a plan that is shared, the plan says.
  fibre_density: (
    id,
  ) => sql<Row>`select 'fibre_density' as kind, x.id, x.owner_id as "ownerId", 'private' as visibility,
      0 as "isDeleted" from fibre_density x where x.id = ${id}`,
  forecast: alone('forecast'),
  quote: alone('quote'),
  quote_terms: alone('quote_terms'),
  weighting: owned('weighting'),
  decision: belonging('decision'),
  judgement: (id) => sql<Row>`select 'piece' as kind, x.id, x.owner_id as "ownerId", x.visibility,
      (x.deleted_at is not null or c.deleted_at is not null) as "isDeleted"
    from judgement c join piece x on x.id = c.piece_id where c.id = ${id}`,
  plan: (id) => sql<Row>`select 'piece' as kind, x.id, x.owner_id as "ownerId", x.visibility,
      x.deleted_at is not null as "isDeleted" from plan c join piece x on x.id = c.piece_id where c.id = ${id}`,
  // To whom else the piece is shown is no matter: what its makers did at the loom is theirs.
  loom_step: (id) => sql<Row>`select 'piece' as kind, x.id, x.owner_id as "ownerId", 'private' as visibility,
      x.deleted_at is not null as "isDeleted" from loom_step c join piece x on x.id = c.piece_id where c.id = ${id}`,
}
