import { describe, expect, test } from 'vitest'
import { makeOriginal, makeSource } from '../support/make.ts'
import { makePiece, makeSitting } from '../support/make-piece.ts'
import { startApp } from '../support/start.ts'

const SOURCE = { title: 'Bands of the Fen', people: 'Oss, R.', year: '1987', kind: 'book', notes: 'old' }

/** The version that a form carries. */
const versionIn = (html: string) => /name="version" value="(\d+)"/.exec(html)?.[1]

describe('POST of a form that was opened on an older version', () => {
  test('is a 409 with both texts, and changes nothing', async () => {
    const { db, get, post } = startApp()
    await post('/sources', SOURCE)
    const version = versionIn((await get('/sources/1/edit')).text)
    expect(version).toBe('1')
    await post('/sources/1', { ...SOURCE, notes: 'from the loft', version: '1' })
    const stale = await post('/sources/1', { ...SOURCE, notes: 'from the cellar', version: '1' })
    expect(stale.status).toBe(409)
    expect(stale.text).toContain('from the loft')
    expect(stale.text).toContain('from the cellar')
    expect(db.first(db.sql.selectFrom('source').select(['notes', 'version']))).toEqual({
      notes: 'from the loft',
      version: 2,
    })
  })

  test('takes over what only the other changed, and saves what was brought together', async () => {
    const { db, get, post } = startApp()
    await post('/sources', SOURCE)
    await post('/sources/1', { ...SOURCE, year: '1988', version: '1' })
    const stale = await post('/sources/1', { ...SOURCE, notes: 'mine', version: '1' })
    expect(stale.status).toBe(409)
    expect(stale.text).toContain('taken over from the other version')
    expect(stale.text).toContain('>\n1988</textarea>')
    expect(versionIn(stale.text)).toBe('2')
    await post('/sources/1', { ...SOURCE, year: '1988', notes: 'mine', version: '2' })
    expect(db.first(db.sql.selectFrom('source').select(['year', 'notes']))).toEqual({ year: '1988', notes: 'mine' })
    expect((await get('/sources/1')).status).toBe(200)
  })

  test('of fifty at once exactly one is saved', async () => {
    const { db, post } = startApp()
    await post('/sources', SOURCE)
    const answers = await Promise.all(
      Array.from({ length: 50 }, (_, at) => post('/sources/1', { ...SOURCE, notes: `note ${at}`, version: '1' })),
    )
    expect(answers.map(({ status }) => status).sort()).toEqual([303, ...Array.from({ length: 49 }, () => 409)])
    expect(db.first(db.sql.selectFrom('source').select('version'))?.version).toBe(2)
  })

  test('of an original, a piece and a sitting comes back with both texts', async () => {
    const { db, get, post } = startApp()
    const original = makeOriginal(db, { name: 'Fen band' })
    const piece = makePiece(db, { name: 'Replica' })
    const sitting = makeSitting(db, piece, { note: 'first' })
    for (const [path, field, edit] of [
      [`/originals/${original}`, 'name', `/originals/${original}/edit`],
      [`/pieces/${piece}`, 'name', `/pieces/${piece}/edit`],
      [`/sittings/${sitting}`, 'note', `/sittings/${sitting}/edit`],
    ] as const) {
      expect(versionIn((await get(edit)).text)).toBe('1')
      db.raw.prepare(`update ${path.split('/')[1]!.replace(/s$/, '')} set version = 2, ${field} = 'theirs'`).run()
      const stale = await post(path, { [field]: 'mine', version: '1' })
      expect(stale.status, path).toBe(409)
      expect(stale.text).toContain('theirs')
      expect(stale.text).toContain('>\nmine</textarea>')
    }
  })

  test('carries what the page does not show along, repeated fields too', async () => {
    const { db, post } = startApp()
    makeSource(db)
    db.raw.prepare('update source set version = 5').run()
    const stale = await post('/sources/1', { ...SOURCE, version: '1', extra: ['a', 'b"<'] })
    expect(stale.text).toContain('name="extra" value="a"')
    expect(stale.text).toContain('name="extra" value="b&quot;&lt;"')
  })
})
