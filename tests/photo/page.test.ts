import { describe, expect, test } from 'vitest'
import { insertMember } from '../../server/member/queries.ts'
import { LICENCES } from '../../server/photo/licence.ts'
import type { Viewer } from '../../server/rights/viewer.ts'
import { readable } from '../support/html.ts'
import { makeOriginal } from '../support/make.ts'
import { makePiece } from '../support/make-piece.ts'
import { migratedDb, NOW, startApp } from '../support/start.ts'
import { makePhoto } from '../rights/things.ts'
import { listKept, makeJpeg, sendPhoto, WORDS } from './send.ts'

async function withPhoto(noun: 'original' | 'piece' = 'original') {
  const started = startApp()
  const id = noun === 'original' ? makeOriginal(started.db) : makePiece(started.db)
  await sendPhoto(started, `/${noun}s/${id}/photos`, await makeJpeg({ width: 2600, height: 1000 }))
  return started
}

describe('GET /originals/:id/photos/new', () => {
  test('promises nothing of somebody else’s thing unasked; of a piece it states no licence', async () => {
    const { db, get } = startApp()
    const cne = '<option value="http://rightsstatements.org/vocab/CNE/1.0/" selected>'
    expect((await get(`/originals/${makeOriginal(db)}/photos/new`)).text).toContain(cne)
    expect((await get(`/pieces/${makePiece(db)}/photos/new`)).text).toContain(
      '<option value="" selected>No licence stated',
    )
  })
})

test('LICENCES has the twelve statements of rightsstatements.org, and each key once', () => {
  const keys = LICENCES.map(({ key }) => key)
  expect(new Set(keys).size).toBe(keys.length)
  expect(
    keys.filter((key) => /^http:\/\/rightsstatements\.org\/vocab\/[A-Z][A-Za-z-]+\/1\.0\/$/.test(key)),
  ).toHaveLength(12)
})

describe('GET /photos/:id', () => {
  test.each([
    ['', 'zoom-1'],
    ['?zoom=2', 'zoom-2'],
    ['?zoom=4', 'zoom-4'],
    ['?zoom=9', 'zoom-1'],
  ])('%s shows the picture in a box that scrolls, without script too', async (query, name) => {
    const { get } = await withPhoto()
    const text = readable((await get(`/photos/1${query}`)).text)
    expect(text).toContain(`class="photo-box ${name}" tabindex="0"`)
    expect(text).toContain('href="/photos/1?zoom=4#picture"')
    expect(text).toContain('<a href="/originals/1">Fen band</a>')
  })

  test.each([
    '/photos/7',
    '/photos/7/edit',
    '/photos/7/480.jpg',
    '/photos/7/original',
    '/photos/x',
    '/photos/1/481.jpg',
  ])('%s is not there', async (path) => {
    expect((await (await withPhoto()).get(path)).status).toBe(404)
  })
})

describe('GET /photos/:id/:size.jpg', () => {
  test('is an image and nothing else, kept in the reader’s own cache and asked for again', async () => {
    const { get } = await withPhoto()
    const answer = await get('/photos/1/1280.jpg')
    expect(answer.headers['content-type']).toBe('image/jpeg')
    expect(answer.headers['x-content-type-options']).toBe('nosniff')
    expect(answer.headers['content-security-policy']).toBe("default-src 'none'; sandbox")
    expect(answer.headers['cache-control']).toBe('private, no-cache')
    expect(answer.headers['cross-origin-resource-policy']).toBe('same-origin')
    const again = await get('/photos/1/1280.jpg').set('If-None-Match', answer.headers.etag as string)
    expect(again.status).toBe(304)
  })

  test.each([
    '/photos/1/../../fellmark.db',
    '/photos/1/..%2f..%2ffellmark.jpg',
    '/photos/1/%00.jpg',
    '/photos/1/480.JPG.jpg',
  ])('%s leads nowhere', async (path) => {
    const answer = await (await withPhoto()).get(path)
    expect(answer.status).toBe(404)
  })
})

describe('POST /photos/:id', () => {
  test('changes the words, and the form is filled with them', async () => {
    const { get, post } = await withPhoto()
    const answer = await post('/photos/1', { ...WORDS, caption: 'Reverse', takenOn: '1987-06', version: '1' })
    expect(answer.headers.location).toBe('/photos/1?done=saved')
    const { text } = await get('/photos/1')
    expect(text).toContain('<h1>Reverse</h1>')
    expect(text).toContain('June 1987')
    expect((await get('/photos/1/edit')).text).toContain('value="1987-06"')
    const history = await get('/originals/1/history')
    expect(history.text).toContain('Left border with fringe')
    expect(history.text).toContain('Photo 1: changed')
  })

  test.each([
    ['caption', '', 'in a few words'],
    ['takenOn', '1987-13', 'a year, a month or a day'],
    ['takenOn', '2027', 'has not come yet'],
    ['licence', 'MIT', 'choose from the list'],
  ])('with %s "%s" shows the form again', async (field, typed, said) => {
    const { post } = await withPhoto()
    const answer = await post('/photos/1', { ...WORDS, credit: 'S. Oss', version: '1', [field]: typed })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(said)
    expect(answer.text).toContain('value="S. Oss"')
    expect(answer.text).toContain('name="version" value="1"')
  })

  test('on an older version changes nothing and shows both', async () => {
    const { get, post } = await withPhoto()
    await post('/photos/1', { ...WORDS, caption: 'Theirs', version: '1' })
    const stale = await post('/photos/1', { ...WORDS, caption: 'Mine', version: '1' })
    expect(stale.status).toBe(409)
    expect(stale.text).toContain('value="Mine"')
    expect(stale.text).toContain('“Theirs”')
    expect((await get('/photos/1')).text).toContain('<h1>Theirs</h1>')
    expect(stale.text).toContain('name="version" value="2"')
    expect((await post('/photos/1', { ...WORDS, caption: 'Mine', version: '2' })).status).toBe(303)
  })
})

describe('POST /photos/:id/delete', () => {
  test('puts it in the bin with its files, from where it comes back', async () => {
    const { dataDir, get, post } = await withPhoto('piece')
    const answer = await post('/photos/1/delete')
    expect(answer.headers.location).toBe('/pieces/1?undo=photo-1&done=deleted#photographs')
    expect((await get('/photos/1')).status).toBe(404)
    expect((await get('/photos/1/480.jpg')).status).toBe(404)
    expect((await get('/pieces/1')).text).not.toContain(WORDS.caption)
    expect(listKept(dataDir)).toHaveLength(4)
    expect((await post('/bin/photo/1/restore')).status).toBe(303)
    expect((await get('/photos/1')).status).toBe(200)
  })
})

describe('whose photograph it is', () => {
  const db = migratedDb()
  const [owner, other, guest] = (['member', 'member', 'guest'] as const).map((role, at): Viewer => {
    const name = ['Runa', 'Oss', 'Visitor'][at]!
    const id = insertMember(db, { name, signInName: name, passwordHash: '' }, role, NOW) as number
    return { kind: 'member', id, name, role }
  })
  const anonymous: Viewer = { kind: 'anonymous' }
  const asked = (viewer: Viewer | undefined, dataDir?: string) => startApp(db, dataDir, viewer)
  const share = (visibility: string) => db.raw.prepare('update original set visibility = ?').run(visibility)

  test('the owner alone has the file as it was sent, whoever else sees the picture', async () => {
    const own = asked(owner)
    await own.post('/originals', { name: 'Fen band' })
    expect((await sendPhoto(own, '/originals/1/photos', await makeJpeg())).status).toBe(303)
    const status = async (viewer: Viewer | undefined, path: string) =>
      (await asked(viewer, own.dataDir).get(path)).status
    for (const [visibility, seen] of [
      ['private', { owner: 200, other: 404, guest: 404, anonymous: 303 }],
      ['members', { owner: 200, other: 200, guest: 200, anonymous: 303 }],
      ['published', { owner: 200, other: 200, guest: 200, anonymous: 200 }],
    ] as const) {
      share(visibility)
      for (const [name, viewer] of Object.entries({ owner, other, guest, anonymous })) {
        const expected = seen[name as keyof typeof seen]
        expect(await status(viewer, '/photos/1'), `${name}, ${visibility}`).toBe(expected)
        expect(await status(viewer, '/photos/1/480.jpg'), `${name}, ${visibility}`).toBe(expected)
        if (name !== 'owner') expect(await status(viewer, '/photos/1/original'), `${name}, ${visibility}`).not.toBe(200)
      }
    }
    expect(await status(owner, '/photos/1/original')).toBe(200)
    const shown = await asked(other, own.dataDir).get('/photos/1')
    expect(shown.text).not.toContain('/photos/1/original')
    expect(shown.text).not.toContain('/photos/1/edit')
    expect((await asked(other, own.dataDir).get('/originals/1')).text).not.toContain('/originals/1/photos/new')
  })

  test.each([
    ['another member', other],
    ['a guest', guest],
    ['a stranger', anonymous],
  ])('%s adds, changes and deletes nothing', async (_name, viewer) => {
    const started = asked(viewer)
    expect((await sendPhoto(started, '/originals/1/photos', await makeJpeg())).status).toBe(403)
    expect((await started.post('/photos/1', WORDS)).status).toBe(403)
    expect((await started.post('/photos/1/delete')).status).toBe(403)
    expect(listKept(started.dataDir)).toEqual([])
  })
})

describe('GET /photos/:id, among others', () => {
  test('leads to the one before and the one after, of the same thing and out of the bin alone', async () => {
    const { db, get } = startApp()
    const [original_id, other] = [makeOriginal(db), makeOriginal(db)]
    const photo = (caption: string, row = {}) => makePhoto(db, { original_id, caption, ...row })
    const [first, , , last] = [
      photo('Left border'),
      photo('thrown away', { deleted_at: NOW.toISOString() }),
      photo('of another', { original_id: other }),
      photo('Fringe'),
    ]
    const links = (text: string) =>
      [...text.matchAll(/href="(\/photos\/\d+)" rel="(prev|next)"/g)].map((m) => [m[2], m[1]])
    const page = readable((await get(`/photos/${first}`)).text)
    expect(links(page)).toEqual([['next', `/photos/${last}`]])
    expect(page).toContain('1 of 2')
    expect(links(readable((await get(`/photos/${last}`)).text))).toEqual([['prev', `/photos/${first}`]])
    const alone = (await get(`/photos/${last! - 1}`)).text
    expect([links(alone), alone.includes('photo-neighbours')]).toEqual([[], false])
  })
})
