import { beforeAll, describe, expect, test } from 'vitest'
import { listOverlaps, listSittings } from '../../server/sitting/queries.ts'
import { listPieces } from '../../server/piece/queries.ts'
import type { Db } from '../../server/db/open.ts'
import { loadDemo } from '../../seeds-demo/load.ts'
import { migratedDb, NOW } from '../support/start.ts'

describe('loadDemo(db, now)', () => {
  let db: Db
  beforeAll(() => {
    db = migratedDb()
    loadDemo(db, NOW)
  })
  const pluck = (query: string) => db.raw.prepare(query).pluck().all()
  const one = (query: string) => Number(db.raw.prepare(query).pluck().get())

  test('brings what the collection promises', () => {
    expect(one('select count(*) from original')).toBeGreaterThanOrEqual(4)
    expect(one('select count(*) from piece')).toBeGreaterThanOrEqual(7)
    expect(one('select count(distinct maker) from piece')).toBe(2)
    expect(one('select count(*) from piece where set_aside_on is not null')).toBe(1)
    expect(one("select count(*) from piece where for_whom <> ''")).toBeGreaterThanOrEqual(1)
    expect(one('select count(*) from draft')).toBe(5)
    expect(pluck('select distinct twist_neutral from draft_revision order by 1')).toEqual([0, 1])
    expect(one('select count(*) from draft_revision where tablets >= 20 and picks > 60')).toBeGreaterThanOrEqual(1)
    expect(one('select count(*) from sitting')).toBeGreaterThanOrEqual(60)
    expect(pluck('select distinct blank from claim where blank is not null order by 1')).toEqual([
      ...['notAnalysed', 'notKnownToMe', 'notPreserved', 'notPublished'],
    ])
  })

  test('brings a draft that was mended, and the start that was woven from it before', () => {
    const woven = `select p.name || ': ' || r.number from piece p join draft_revision r on r.id = p.draft_revision_id
      where r.draft_id = (select draft_id from draft_revision where number = 2) order by p.id`
    expect(pluck("select number from draft_revision where note <> ''")).toEqual([2])
    expect(pluck(woven)).toEqual(['Drennet girdle, first start: 1', 'Drennet girdle, second start: 2'])
    const newest = 'number = (select max(number) from draft_revision n where n.draft_id = r.draft_id)'
    expect(
      pluck(`select count(*) from piece p join draft_revision r on r.id = p.draft_revision_id where not ${newest}`),
    ).toEqual([1])
  })

  test('brings rival claims, each feature with at most one working claim', () => {
    const rivals = `select count(*) from (select 1 from claim where original_id is not null
      group by original_id, feature, part having count(*) > 1)`
    expect(one(rivals)).toBeGreaterThanOrEqual(3)
    expect(one("select count(*) from claim where working_reason <> ''")).toBeGreaterThanOrEqual(1)
    expect(one("select count(*) from claim where corrects_id is not null and reason = ''")).toBe(0)
    expect(one('select count(*) from claim where corrects_id is not null')).toBeGreaterThanOrEqual(1)
  })

  test('makes every row at the same instant, marked as demo', () => {
    const at = NOW.toISOString()
    for (const table of ['source', 'original', 'draft', 'piece']) {
      expect(pluck(`select distinct demo || ' ' || created_at || ' ' || updated_at from ${table}`)).toEqual([
        `1 ${at} ${at}`,
      ])
    }
    expect(pluck('select distinct created_at from claim')).toEqual([at])
    expect(pluck('select distinct created_at from draft_revision')).toEqual([at])
    expect(pluck("select distinct created_at || ' ' || updated_at from sitting")).toEqual([`${at} ${at}`])
  })

  test('brings no sitting in which a maker is at two pieces at once', () => {
    const sittings = listPieces(db).flatMap((piece) => listSittings(db, piece.id))
    expect(sittings.length).toBeGreaterThanOrEqual(60)
    expect(sittings.flatMap((sitting) => listOverlaps(db, sitting, sitting.id))).toEqual([])
  })

  test('counts the hour that the clocks gave back', () => {
    // 23:35 on the 24th in summer time to 03:44 on the 25th in winter time.
    expect(pluck("select minutes from sitting where day = '2026-10-24'")).toEqual([5 * 60 + 9])
  })

  test('is the same whatever the clock of the machine says', () => {
    const earlier = migratedDb()
    loadDemo(earlier, new Date('2020-01-01T00:00:00Z'))
    expect(earlier.raw.prepare('select count(*) from sitting').pluck().get()).toBe(one('select count(*) from sitting'))
  })
})
