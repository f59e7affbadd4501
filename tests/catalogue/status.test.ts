import { sql } from 'kysely'
import { expect, test } from 'vitest'
import { pieceStatus } from '../../shared/work/status.ts'
import { pieces, STATUS_SQL } from '../../server/catalogue/pieces.ts'
import { listEntries } from '../../server/catalogue/listing.ts'
import { rawRows } from '../../server/db/raw.ts'
import { makePiece } from '../support/rows.ts'
import { migratedDb } from '../support/start.ts'

const DAYS = [null, '2026-03-01', '2026-03-02', '2026-03-03']

test('STATUS_SQL says what pieceStatus(days) says, for every order of the days', () => {
  const db = migratedDb()
  const expected = new Map<number, ReturnType<typeof pieceStatus>>()
  db.write(() => {
    for (const planned_on of DAYS)
      for (const on_loom_on of DAYS)
        for (const woven_on of DAYS)
          for (const finished_on of DAYS)
            for (const set_aside_on of DAYS) {
              const id = makePiece(db, { planned_on, on_loom_on, woven_on, finished_on, set_aside_on })
              const days = { plannedOn: planned_on, onLoomOn: on_loom_on, wovenOn: woven_on, finishedOn: finished_on }
              const told = Object.entries({ ...days, setAsideOn: set_aside_on }).filter(([, day]) => day !== null)
              expected.set(id, pieceStatus(Object.fromEntries(told)))
            }
  })
  const rows = rawRows(db, sql<{ id: number; status: string }>`select p.id, ${STATUS_SQL} as status from piece as p`)
  expect(rows).toHaveLength(4 ** 5)
  expect(rows.filter(({ id, status }) => status !== expected.get(id)?.status)).toEqual([])
  const { entries } = listEntries(db, pieces(), {})
  expect(entries.map(({ statusOn }) => statusOn ?? undefined)).toEqual(entries.map(({ id }) => expected.get(id)?.on))
})
