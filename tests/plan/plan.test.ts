import { describe, expect, test } from 'vitest'
import type { Db } from '../../server/db/open.ts'
import { insertDraft, OWN_FRAME } from '../../server/draft/queries.ts'
import { findPlan } from '../../server/plan/queries.ts'
import { asViewer } from '../../server/rights/viewer.ts'
import { makePiece } from '../support/make-piece.ts'
import { makeLot, makeYarn, move } from '../yarn-store/make-yarn.ts'
import { listPieceLots } from '../../server/yarn/ledger-queries.ts'
import { startApp } from '../support/start.ts'
import { enteredOf, LADDER } from './facts.ts'

const TYPED = {
  ...{ wovenCm: '150', picksPerCm: '10', wasteCm: '60', sampleCm: '10', fringeCm: '20', widthMm: '20' },
  ...{ 'warp-m-count': '100 tex', 'warp-w-count': 'Nm 20/2', 'weft-count': '50 tex' },
}

function start() {
  const started = startApp()
  const at = '2026-11-24T12:00:00.000Z'
  const { id, revisionId } = insertDraft(
    started.db,
    { draft: LADDER, notes: '', originalId: undefined, convention: OWN_FRAME },
    at,
  )
  const piece = makePiece(started.db, { name: 'Ferry belt', draftRevisionId: revisionId })
  return { ...started, piece, draft: id, path: `/pieces/${piece}/plan` }
}

const asFields = (changes: Record<string, string>): Record<string, string> => ({ ...enteredOf(changes) })
const queryOf = (changes: Record<string, string>) => new URLSearchParams(asFields(changes)).toString()

describe('GET /pieces/:id/plan', () => {
  test('says that it needs a draft where the piece has none', async () => {
    const { db, get } = startApp()
    const piece = makePiece(db)
    const { status, text } = await get(`/pieces/${piece}/plan`)
    expect(status).toBe(200)
    expect(text).toContain('this piece names none yet')
  })

  test('begins with the counts of the yarns noted with the piece', async () => {
    const { db, get } = startApp()
    const { revisionId } = insertDraft(
      db,
      { draft: LADDER, notes: '', originalId: undefined, convention: OWN_FRAME },
      '',
    )
    const yarn = {
      role: 'pattern warp',
      yarn: 'worsted',
      count: '20',
      countSystem: 'Nm',
      ply: 2,
      colourKey: 'w',
    } as const
    const piece = makePiece(db, { draftRevisionId: revisionId, yarns: [yarn] })
    expect((await get(`/pieces/${piece}/plan`)).text).toMatch(/name="warp-w-count" type="text" value="Nm 20\/2"/)
  })

  test('with a plan in the address works that out, keeps every word of it, and writes nothing', async () => {
    const { db, get, path, piece } = start()
    const { status, text } = await get(`${path}?${queryOf({ ...TYPED, wovenCm: '150,0', leftCm: 'a <b>hand</b>' })}`)
    expect(status).toBe(200)
    expect(text).toContain('value="150,0"')
    expect(text).toContain('value="a &lt;b&gt;hand&lt;/b&gt;"')
    expect(text).toContain('Please type a number, such as 13.5 or 13,5.')
    expect(text).toMatch(/<summary>2\.6\d m<\/summary>/)
    expect(findPlan(db, piece)).toBeUndefined()
  })

  test('with take=proposal puts the reversals into their field', async () => {
    const { get, path } = start()
    const { text } = await get(`${path}?take=proposal&${queryOf({ ...TYPED, twistLimit: '40' })}`)
    expect(text).toMatch(/name="reversals" type="text" value="\d+(, \d+)*"/)
    expect(text).toMatch(/<option value="reverse" selected>/)
    expect(text).toContain('stay within 40 turns per m')
  })

  test.each(['/pieces/99/plan', '/pieces/x/plan', '/pieces/99/plan/cards', '/pieces/99/plan/threading'])(
    '%s is not there',
    async (path) => {
      const { get } = start()
      expect((await get(path)).status).toBe(404)
    },
  )

  test('says that a strap is not tested for load', async () => {
    const { get, path } = start()
    expect((await get(path)).text).toContain('Not for climbing, lifting, carrying people')
  })
})

describe('POST /pieces/:id/plan', () => {
  test('keeps every field and the yarns, and opens with them again', async () => {
    const { db, get, post, path, piece } = start()
    const fields = asFields({
      ...TYPED,
      winder: 'arms',
      winderArms: '4',
      winderSpacingCm: '25,2',
      reversals: '96, 192',
    })
    const answer = await post(path, fields)
    expect([answer.status, answer.headers.location]).toEqual([303, `${path}?done=saved`])
    expect(findPlan(db, piece)?.entered).toMatchObject(fields)
    const { text } = await get(path)
    expect(text).toContain('Plan · kept with the piece')
    expect(text).toContain('value="25,2"')
    const change = db.first(db.sql.selectFrom('change').select(['kind', 'action']).where('kind', '=', 'plan'))
    expect(change).toEqual({ kind: 'plan', action: 'insert' })
  })

  test('with a wrong field comes back whole, with the sentence beside it, and keeps nothing', async () => {
    const { db, post, path, piece } = start()
    const { status, text } = await post(path, asFields({ ...TYPED, wasteCm: 'much', 'warp-m-count': '20/2 wool' }))
    expect(status).toBe(422)
    expect(text).toContain('value="much"')
    expect(text).toContain('<a href="#f-warp-m-count">')
    expect(text).toContain('Makers of different yarns write alike')
    expect(text).toContain('value="Nm 20/2"')
    expect(findPlan(db, piece)).toBeUndefined()
  })

  test('opened on an older version comes back with both texts', async () => {
    const { get, post, path } = start()
    await post(path, asFields(TYPED))
    await post(path, { ...asFields({ ...TYPED, wasteCm: '70' }), version: '1' })
    const stale = await post(path, { ...asFields({ ...TYPED, fringeCm: '33' }), version: '1' })
    expect(stale.status).toBe(409)
    expect(stale.text).toContain('>\n70</textarea>')
    expect(stale.text).toContain('name="fringeCm" value="33"')
    expect(stale.text).toContain(`action="${path}"`)
    expect((await get(path)).text).toContain('name="version" value="2"')
  })

  test('is gone with its piece, and there again when that is taken out of the bin', async () => {
    const { get, post, path, piece } = start()
    await post(path, asFields(TYPED))
    await post(`/pieces/${piece}/delete`)
    expect((await get(path)).status).toBe(404)
    await post(`/bin/piece/${piece}/restore`)
    expect((await get(path)).text).toContain('Plan · kept with the piece')
  })

  test('is shown in the history of the piece', async () => {
    const { get, post, path, piece } = start()
    await post(path, asFields(TYPED))
    await post(path, { ...asFields({ ...TYPED, wasteCm: '70' }), version: '1' })
    const { text } = await get(`/pieces/${piece}/history`)
    expect(text).toContain('Waste cm')
    expect(text).toContain('70')
  })
})

describe('the plan of a draft of 400 colours', () => {
  const keys = Array.from({ length: 400 }, (_, at) => `c${at.toString(36).padStart(7, '0')}`)
  const holes = (at: number) => [keys[at]!, keys[at]!, null, null]
  const MANY = {
    ...{ title: 'Many', weft: keys[0]!, picks: ['400F', '400F'] },
    colours: Object.fromEntries(keys.map((key) => [key, { name: '', hex: '#9c3b2e' }])),
    tablets: keys.map((_, at) => ({ ...LADDER.tablets[0]!, holes: holes(at) as never, part: 'pattern' as const })),
  }
  const counts = Object.fromEntries(
    [...keys.map((key) => `warp-${key}-count`), 'weft-count'].map((name) => [name, '34 tex x 2']),
  )

  test('is worked out by a form, kept, and comes back whole; every other form stays short', async () => {
    const { db, get, post } = startApp()
    const kept = { draft: MANY, notes: '', originalId: undefined, convention: OWN_FRAME }
    const { revisionId } = insertDraft(db, kept, '2026-11-24T12:00:00.000Z')
    const path = `/pieces/${makePiece(db, { draftRevisionId: revisionId })}/plan`
    const fields = {
      ...asFields({ ...TYPED, ...counts }),
      ...Object.fromEntries(keys.map((key) => [`warp-${key}`, ''])),
      weft: '',
    }
    expect(Object.keys(fields).length).toBeGreaterThan(820)
    const opened = (await get(path)).text
    expect(opened).toContain(`formmethod="post" formaction="${path}/work"`)
    const worked = await post(`${path}/work`, fields)
    expect(worked.status).toBe(200)
    expect(worked.text.match(/value="34 tex x 2"/g)).toHaveLength(401)
    expect((await post(path, { ...fields, wasteCm: 'much' })).text.match(/value="34 tex x 2"/g)).toHaveLength(401)
    expect((await post(path, fields)).status).toBe(303)
    expect((await get(path)).text.match(/value="34 tex x 2"/g)).toHaveLength(401)
    expect((await post('/yarns', fields)).status).toBe(413)
  })
})

describe('POST /pieces/:id/plan/revision', () => {
  test('writes the band out with the borders reversed, as a new revision of the draft', async () => {
    const { get, post, path, draft } = start()
    await post(path, asFields({ ...TYPED, borders: 'reverse', reversals: '200' }))
    const answer = await post(`${path}/revision`)
    expect([answer.status, answer.headers.location]).toEqual([303, `/drafts/${draft}/revisions/2?done=revision`])
    const written = (await get(`/drafts/${draft}/revisions/2/document.json`)).body as { picks: string[] }
    expect(written.picks).toHaveLength(1600)
    expect([written.picks[199], written.picks[200]]).toEqual(['2F 4B 2F', '2B 4F 2B'])
  })

  test('with move puts the piece on it: ticks stay, the plan has its length and no reversals, and none counts twice', async () => {
    const { db, get, post, path, piece, draft } = start()
    const typed = {
      ...TYPED,
      wovenBy: 'repeats',
      wovenCm: '',
      repeats: '375',
      borders: 'reverse',
      reversals: '200, 600',
    }
    await post(path, asFields(typed))
    await post(`${path}/threading`, { from: '1', tablet: ['2', '5'] })
    const offer = (await get(path)).text
    expect(offer).toContain('a new revision of all 1600 picks, its borders turning the other way after picks 200, 600')
    expect(offer).toContain('its length in repeats becomes the same in cm, 150')
    const before = /data-figure="warpLength">[\s\S]*?<summary>([^<]+)/.exec(offer)![1]!
    const answer = await post(`${path}/revision`, { move: 'yes' })
    expect(answer.headers.location).toBe(`${path}?done=revision-taken#twist-title`)
    const row = db.first(db.sql.selectFrom('piece').select(['draft_revision_id', 'version']).where('id', '=', piece))
    expect(row).toMatchObject({ version: 2 })
    expect(findPlan(db, piece)?.entered).toMatchObject({
      wovenBy: 'length',
      wovenCm: '150',
      borders: 'asDrafted',
      reversals: '',
    })
    const { text } = await get(path)
    expect(text).toContain(`<summary>${before}</summary>`)
    expect(text).toContain('has its reversals in its turning: after picks 200, 600')
    expect(text).not.toContain('Write it and put the piece on it')
    expect((await get(`${path}/threading`)).text).toContain('>2</span> of 8 tablets threaded')
    // Typed again, they count once: the twist is as the draft alone has it.
    const verdict = (page: string) => /data-says="twist">([^<]*)/.exec(page)![1]
    const again = (await get(`${path}?${queryOf({ ...TYPED, borders: 'reverse', reversals: '200, 600' })}`)).text
    expect(again).toContain('They are not counted again.')
    expect(verdict(again)).toBe(verdict(text))
    await post(path, { ...asFields({ ...TYPED, borders: 'reverse', reversals: '200' }), version: '2' })
    const refused = await post(`${path}/revision`, { move: 'yes' })
    expect([refused.status, refused.text.includes('stand in the draft already')]).toEqual([422, true])
    expect((await get(`/drafts/${draft}/revisions/3`)).status).toBe(404)
  })

  test('without reversals says so, and without a plan is not there', async () => {
    const { post, path } = start()
    expect((await post(`${path}/revision`)).status).toBe(404)
    await post(path, asFields(TYPED))
    const answer = await post(`${path}/revision`)
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('has no reversals')
  })
})

describe('the cards and the check-list of a plan', () => {
  test('GET /pieces/:id/plan/cards gives ends, metres and turns of each colour, and each tablet with its side', async () => {
    const { get, post, path } = start()
    await post(path, asFields({ ...TYPED, winder: 'turn', winderTurnCm: '100' }))
    const { text } = await get(`${path}/cards`)
    expect(text).toContain('4 each for tablets 1, 2, 7, 8; 2 each for tablets 3 to 6')
    expect(text).toMatch(/<span>24 ends<\/span> <span>\d+\.\d m<\/span> <span>[\d.]+ turns<\/span>/)
    expect(text.match(/class="card-ten"/g)).toHaveLength(4)
    expect(text.match(/from left/g)).toHaveLength(8)
  })

  test('in a convention of the bare warp the thread comes in on the reader’s other side', async () => {
    const { get, path } = start()
    const own =
      'as=own&hand=drafted&card-end=warp&card-forward=away&card-slant=thread&card-face=right&card-sense=anticlockwise&card-first=topNear&card-rows=downward&card-count=left'
    const { text } = await get(`${path}/cards?${own}`)
    expect(text).toContain('from right')
    expect(text).not.toContain('from left')
  })

  test('POST /pieces/:id/plan/threading remembers what is ticked, for the viewer alone', async () => {
    const { db, get, post, path } = start()
    await post(path, asFields(TYPED))
    const answer = await post(`${path}/threading`, { from: '1', tablet: ['2', '5', '99'] })
    expect([answer.status, answer.headers.location]).toEqual([303, `${path}/threading?done=saved`])
    const { text } = await get(`${path}/threading`)
    expect(text).toContain('>2</span> of 8 tablets threaded')
    expect(text.match(/ checked>/g)).toHaveLength(2)
    const rows = db.all(db.sql.selectFrom('threading_tick').select(['member_id', 'tablets']))
    expect(rows).toEqual([{ member_id: null, tablets: '[2,5]' }])
    await post(`${path}/threading`, { from: '1', tablet: '5' })
    expect((await get(`${path}/threading`)).text).toContain('>1</span> of 8 tablets threaded')
  })
})

test('a viewer who may not change the piece sees its plan and no button to keep it', async () => {
  const { db, piece, path } = start()
  db.run(db.sql.updateTable('piece').set({ visibility: 'published' }).where('id', '=', piece))
  db.run(db.sql.updateTable('draft').set({ visibility: 'published' }))
  const other = startApp(db, undefined, { kind: 'anonymous' })
  const { status, text } = await other.get(path)
  expect(status).toBe(200)
  expect(text).not.toContain('Keep the plan')
  expect((await other.post(path, asFields(TYPED))).status).toBe(403)
  expect(asViewer({ kind: 'lone' }, () => findPlan(db, piece))).toBeUndefined()
})

describe('POST /pieces/:id/plan/reserve', () => {
  const lotOf = (db: Db, grams: number) => {
    const lot = makeLot(db, makeYarn(db, { name: 'Worsted', count: '100 tex' }))
    move(db, lot, 'bought', grams * 1000)
    return lot
  }

  test('reserves what the kept plan needs, gives back what it needs no more, and promises nothing that is not there', async () => {
    const { db, get, post, path, piece } = start()
    const lot = lotOf(db, 500)
    const typed = { ...TYPED, 'warp-m-count': '', 'warp-m': `lot-${lot}` }
    await post(path, asFields(typed))
    expect((await get(path)).text).toContain('Nothing is reserved for this piece yet.')
    const answer = await post(`${path}/reserve`)
    expect(answer.headers.location).toBe(`${path}?done=reserved#needs-title`)
    const [first] = listPieceLots(db, piece)
    // 24 ends of madder, 100 tex: as many grams as a tenth of the metres.
    expect(first!.reservedMg).toBeGreaterThan(24 * 2400 * 0.1)
    expect((await get(path)).text).toContain('That is what the plan as it is kept needs.')
    await post(path, { ...asFields({ ...typed, wovenCm: '50' }), version: '1' })
    await post(`${path}/reserve`)
    expect(listPieceLots(db, piece)[0]!.reservedMg).toBeLessThan(first!.reservedMg)
  })

  test('says so where a lot is short, and reserves nothing of it', async () => {
    const { db, post, path, piece } = start()
    const lot = lotOf(db, 1)
    await post(path, asFields({ ...TYPED, 'warp-m-count': '', 'warp-m': `lot-${lot}` }))
    const answer = await post(`${path}/reserve`)
    expect(answer.headers.location).toBe(`${path}?done=reserved-partly#needs-title`)
    expect(listPieceLots(db, piece)).toEqual([])
  })

  test('without a plan is not there', async () => {
    const { post, path } = start()
    expect((await post(`${path}/reserve`)).status).toBe(404)
  })
})
