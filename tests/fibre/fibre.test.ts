import { describe, expect, test } from 'vitest'
import { densityOfBlend, listDensities } from '../../shared/yarn/density.ts'
import { diameterEstimate } from '../../shared/yarn/diameter-range.ts'
import { diameterMm } from '../../shared/yarn/diameter.ts'
import { bringIn } from '../../server/archive/bring-in.ts'
import { gather } from '../../server/archive/gather.ts'
import { asViewer } from '../../server/rights/viewer.ts'
import { listDensitiesOf } from '../../server/fibre/queries.ts'
import { makePeople } from '../support/people.ts'
import { makePiece, makeDraft, makeRevision, makeShelfYarn, makeShelfLot } from '../support/rows.ts'
import { makeDataDir, migratedDb, startApp } from '../support/start.ts'

const OWN = { fibre: 'Wool', low: '1,28', high: '1.30', source: 'weighed in oil, <b>mine</b>', onDay: '2026-11-20' }

describe('densityOfBlend(parts, densities)', () => {
  test('takes an own value in the place of the built-in one, at the middle of its range, and names each source', () => {
    const densities = listDensities([{ fibre: 'wool', low: 1.28, high: 1.3, source: 'weighed' }])
    const blend = [
      { fibre: 'wool', percent: 80 },
      { fibre: 'silk', percent: 20 },
    ]
    const found = densityOfBlend(blend, densities)!
    expect(found.gPerCm3).toBeCloseTo(100 / (80 / 1.29 + 20 / 1.34), 12)
    expect([found.low, found.high]).toEqual([100 / (80 / 1.28 + 20 / 1.34), 100 / (80 / 1.3 + 20 / 1.34)])
    expect(found.from).toMatch(
      /^80 % wool 1.28 to 1.3 g\/cm³ \(the maker’s own value: weighed\), 20 % silk 1.34 g\/cm³ \(Morton/,
    )
    expect(densityOfBlend([{ fibre: 'flax', percent: 100 }], densities)?.gPerCm3).toBe(1.53)
    expect(densityOfBlend([{ fibre: 'goat', percent: 100 }], densities)).toBeUndefined()
  })

  test('a density that is a range widens a diameter as a packing does: JCGM 100:2008, 4.3.7', () => {
    const found = diameterEstimate(25, 1.3, { low: 0.6, high: 0.6 }, 0, { low: 1.2, high: 1.4 })
    expect(found.u).toBeCloseTo((found.diameterMm / 2) * (0.1 / Math.sqrt(3) / 1.3), 14)
    expect([found.lowMm, found.highMm]).toEqual([diameterMm(25, 1.4, 0.6), diameterMm(25, 1.2, 0.6)])
    expect(() => diameterEstimate(25, 1.3, { low: 0.6, high: 0.6 }, 0, { low: 1.4, high: 1.2 })).toThrow('density.low')
  })
})

describe('the page of densities', () => {
  test('POST /yarns/fibres keeps an own value; every figure that rests on it says so; removed, the form holds it out', async () => {
    const started = startApp()
    const { get, post, db } = started
    const yarn = makeShelfYarn(db, { name: 'Fen', blend: 'wool', count: 'Nm 10' })
    const lot = makeShelfLot(db, { yarn_id: yarn })
    const draft = makeDraft(db)
    const piece = makePiece(db, { draft_revision_id: makeRevision(db, { draft_id: draft }) })
    expect((await get(`/yarns/${yarn}`)).text).toContain('wool 1.31 g/cm³ (Morton and Hearle')

    const kept = await post('/yarns/fibres', OWN)
    expect([kept.status, kept.headers.location]).toEqual([303, '/yarns/fibres?done=saved'])
    const list = (await get('/yarns/fibres')).text
    expect(list).toContain('1.28 to 1.30')
    expect(list).toContain('weighed in oil, &lt;b&gt;mine&lt;/b&gt;; 20 November 2026')
    const said = 'wool 1.28 to 1.3 g/cm³ (the maker’s own value: weighed in oil, &lt;b&gt;mine&lt;/b&gt;; 2026-11-20)'
    expect((await get(`/yarns/${yarn}`)).text).toContain(said)
    expect((await get('/yarns/reckon?count=Nm+10')).text).toContain(said)
    const plan = (await get(`/pieces/${piece}/plan?wovenBy=length&wovenCm=100&warp-m=lot-${lot}&fibre=wool`)).text
    expect(plan).toContain(`of it is fibre, from memory; ${said}`)
    expect(plan).toContain(`${said}, where the yarn does not say otherwise`)
    expect(plan).toContain(`by its tex and ${said}`)

    const taken = await post('/yarns/fibres', { ...OWN, low: '1.29' })
    expect(taken.status).toBe(422)
    expect(taken.text).toContain('You keep a value for this fibre already')
    expect(taken.text).toContain('value="1.29"')

    expect((await post('/yarns/fibres/1', { ...OWN, low: '1.29', high: '', version: '1' })).status).toBe(303)
    expect((await get('/yarns/fibres')).text).not.toContain('1.28')
    // Opened before that change.
    const stale = await post('/yarns/fibres/1', { ...OWN, low: '1.27', version: '1' })
    expect(stale.status).toBe(409)
    expect(stale.text).toContain('1.27')

    const gone = await post('/yarns/fibres/1/delete', {})
    expect(gone.headers.location).toMatch(/^\/yarns\/fibres\/new\?fibre=wool&low=1\.29&.*done=density-removed$/)
    const form = (await get(gone.headers.location!)).text
    expect(form).toContain('Save puts it back')
    expect(form).toContain('value="1.29"')
    expect((await get(`/yarns/${yarn}`)).text).toContain('wool 1.31 g/cm³ (Morton and Hearle')
    const logged = db.raw.prepare("select action, fields from change where kind = 'fibre_density' order by id").all()
    expect(logged).toMatchObject([{ action: 'insert' }, { action: 'update' }, { action: 'delete' }])
    expect((logged[2] as { fields: string }).fields).toContain('"low":["1.29",null]')
  })

  test.each([
    [{ fibre: '' }, 'Which fibre?'],
    [{ fibre: '100 %' }, 'Please write the fibre as a blend names it'],
    [{ low: '' }, 'Please type g/cm³ of the fibre itself, from 0.2 to 25'],
    [{ low: '131' }, 'Please type g/cm³ of the fibre itself, from 0.2 to 25'],
    [{ high: '1.2' }, 'The upper end of the range is below the lower one.'],
    [{ source: ' ' }, 'Please say where the value is from'],
    [{ onDay: '2999-01-01' }, 'This day has not come yet'],
  ])('POST /yarns/fibres with %j is refused at its field, and nothing typed is lost', async (wrong, sentence) => {
    const answer = await startApp().post('/yarns/fibres', { ...OWN, ...wrong })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(sentence)
    for (const typed of Object.values({ ...OWN, source: 'oil', ...wrong })) expect(answer.text).toContain(typed.trim())
  })

  test('a shared plan goes by the densities of whose piece it is, a yarn’s page by the reader’s', async () => {
    const db = migratedDb()
    const people = makePeople(db)
    const owner = startApp(db, makeDataDir(), people.owner)
    const other = startApp(db, makeDataDir(), people.other)
    await owner.post('/yarns/fibres', { ...OWN, source: 'the owner weighed it' })
    await other.post('/yarns/fibres', { ...OWN, low: '1.5', high: '', source: 'another weighed it' })
    const draft = makeDraft(db, { owner_id: people.owner.id, visibility: 'members' })
    const revision = makeRevision(db, { draft_id: draft })
    const shared = { owner_id: people.owner.id, visibility: 'members' as const }
    const piece = makePiece(db, { ...shared, draft_revision_id: revision })
    const yarn = makeShelfYarn(db, { ...shared, blend: 'wool', count: 'Nm 10' })
    const plan = (await other.get(`/pieces/${piece}/plan`)).text
    expect(plan).toContain('the owner weighed it')
    expect(plan).not.toContain('another weighed it')
    expect((await other.get(`/yarns/${yarn}`)).text).toContain('another weighed it')
  })
})

test('gather and bringIn carry own densities; one that is kept for that fibre already stays', () => {
  const [first, second] = [migratedDb(), migratedDb()]
  const put = (db: typeof first, uid: string, low: string) =>
    db.raw.exec(`insert into fibre_density (uid, fibre, low, source, on_day, created_at, updated_at)
      values ('${uid.repeat(32)}', 'wool', '${low}', 'weighed', '2026-11-20', '2026-11-20T00:00:00.000Z', '2026-11-20T00:00:00.000Z')`)
  put(first, 'a', '1.29')
  const notebook = gather(first, { kind: 'notebook' }).notebook
  const archive = { notebook, photos: new Map() } as unknown as Parameters<typeof bringIn>[1]
  bringIn(second, archive, new Map(), makeDataDir())
  expect(listDensitiesOf(second, null)[0]).toMatchObject({ fibre: 'wool', low: 1.29, isOwn: true })
  const third = migratedDb()
  put(third, 'b', '1.30')
  expect(bringIn(third, archive, new Map(), makeDataDir()).counts.left).toBe(1)
  expect(listDensitiesOf(third, null)[0]).toMatchObject({ low: 1.3 })
  expect(asViewer({ kind: 'anonymous' }, () => gather(first, { kind: 'own' }).notebook.records.fibre_density)).toEqual(
    [],
  )
})
