import { readFileSync } from 'node:fs'
import sharp from 'sharp'
import request from 'supertest'
import { describe, expect, test } from 'vitest'
import { MEMBER_BYTES, NOTEBOOK_BYTES } from '../../server/photo/quota.ts'
import { makeOriginal } from '../support/make.ts'
import { makePiece } from '../support/make-piece.ts'
import { startApp } from '../support/start.ts'
import { cornered, listKept, makeJpeg, sendPhoto, WORDS } from './send.ts'

describe('POST /originals/:id/photos', () => {
  test('keeps the photograph, leads to its page, and shows it on that of the original', async () => {
    const started = startApp()
    const id = makeOriginal(started.db)
    const answer = await sendPhoto(started, `/originals/${id}/photos`, await makeJpeg({ width: 3000, height: 2000 }))
    expect(answer.status).toBe(303)
    expect(answer.headers.location).toBe('/photos/1?done=saved')
    const shown = await started.get(`/originals/${id}`)
    expect(shown.text).toContain('alt="Left border with fringe"')
    expect(shown.text).toContain('/photos/1/480.jpg 480w, /photos/1/1280.jpg 1280w, /photos/1/2400.jpg 2400w')
    expect(shown.text).toContain('Photograph: R. Oss. CC BY 4.0')
    const page = await started.get('/photos/1')
    expect(page.text).toContain('3000 × 2000 px')
    expect(page.text).toContain('https://creativecommons.org/licenses/by/4.0/')
    expect(listKept(started.dataDir)).toHaveLength(4)
    expect(started.broken).toEqual([])
  })

  test('makes no size that is larger than the picture', async () => {
    const started = startApp()
    await sendPhoto(started, `/originals/${makeOriginal(started.db)}/photos`, await makeJpeg())
    const { width, height } = await sharp((await started.get('/photos/1/1280.jpg')).body as Buffer).metadata()
    expect([width, height]).toEqual([600, 400])
    expect((await started.get('/photos/1/2400.jpg')).status).toBe(404)
  })

  test('turns the picture as the camera noted, and drops the note', async () => {
    const started = startApp()
    // Orientation 6: the first row is the right side as it is looked at (EXIF 2.32, 4.6.4 A).
    const turned = await cornered(600, 400).withMetadata({ orientation: 6 }).jpeg().toBuffer()
    await sendPhoto(started, `/originals/${makeOriginal(started.db)}/photos`, turned)
    const served = (await started.get('/photos/1/480.jpg')).body as Buffer
    const { data, info } = await sharp(served).raw().toBuffer({ resolveWithObject: true })
    expect([info.width, info.height]).toEqual([400, 600])
    const pixel = (x: number, y: number) => [...data.subarray((y * info.width + x) * 3, (y * info.width + x) * 3 + 3)]
    expect(pixel(390, 10)[1]).toBeLessThan(40)
    expect(pixel(10, 10)[1]).toBeGreaterThan(150)
    expect((await sharp(served).metadata()).orientation).toBeUndefined()
  })

  test.each(['png', 'webp'] as const)('takes %s', async (format) => {
    const started = startApp()
    const file = await cornered(300, 200)[format]().toBuffer()
    const answer = await sendPhoto(started, `/pieces/${makePiece(started.db)}/photos`, file)
    expect(answer.status).toBe(303)
    expect((await started.get('/photos/1/480.jpg')).headers['content-type']).toBe('image/jpeg')
    expect((await started.get('/photos/1/original')).headers['content-type']).toBe(`image/${format}`)
  })

  test('without a caption shows the form again with what was typed, and keeps nothing', async () => {
    const started = startApp()
    const fields = { ...WORDS, caption: ' ', credit: '"Oss" & <b>Co</b>' }
    const answer = await sendPhoto(started, `/originals/${makeOriginal(started.db)}/photos`, await makeJpeg(), {
      fields,
    })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('There is a problem')
    expect(answer.text).toContain('&quot;Oss&quot; &amp; &lt;b&gt;Co&lt;/b&gt;')
    expect(answer.text).toContain('href="#f-photo"')
    expect(listKept(started.dataDir)).toEqual([])
  })

  test('without a file asks for one', async () => {
    const started = startApp()
    const answer = await sendPhoto(started, `/originals/${makeOriginal(started.db)}/photos`, undefined)
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('Please choose the file of the photograph.')
    expect(answer.text).toContain('value="Left border with fringe"')
  })

  test('over 25 MB is 413 with what was typed, and no file is left', async () => {
    const started = startApp()
    const file = Buffer.concat([await makeJpeg(), Buffer.alloc(25 * 1024 ** 2)])
    const answer = await sendPhoto(started, `/originals/${makeOriginal(started.db)}/photos`, file)
    expect(answer.status).toBe(413)
    expect(answer.text).toContain('larger than the 25 MB')
    expect(answer.text).toContain('value="Left border with fringe"')
    expect(listKept(started.dataDir)).toEqual([])
  })

  test('of the same file twice keeps one', async () => {
    const started = startApp()
    const path = `/originals/${makeOriginal(started.db)}/photos`
    const file = await makeJpeg()
    const answers = await Promise.all([1, 2, 3].map(() => sendPhoto(started, path, file)))
    expect(answers.map(({ status }) => status).sort()).toEqual([303, 409, 409])
    expect(listKept(started.dataDir)).toHaveLength(3)
  })

  test('from another page is refused before a byte of it is kept', async () => {
    const started = startApp()
    const path = `/originals/${makeOriginal(started.db)}/photos`
    const answer = await request(started.app)
      .post(path)
      .set({ Host: 'localhost:4180', Origin: 'http://evil.test' })
      .attach('photo', await makeJpeg(), 'a.jpg')
    expect(answer.status).toBe(403)
    expect(listKept(started.dataDir)).toEqual([])
  })

  test('of an original that is not there is not there', async () => {
    const started = startApp()
    expect((await sendPhoto(started, '/originals/9/photos', await makeJpeg())).status).toBe(404)
    expect(listKept(started.dataDir)).toEqual([])
  })

  test('with a name that breaks lines and climbs folders is kept under a name of our own, and offered under the caption', async () => {
    const started = startApp()
    const fields = { ...WORDS, caption: 'Rand "links", Größe; 50%' }
    const name = '../../x%0d%0aSet-Cookie: a=1.jpg'
    const answer = await sendPhoto(started, `/originals/${makeOriginal(started.db)}/photos`, await makeJpeg(), {
      fields,
      name,
    })
    expect(answer.status).toBe(303)
    for (const path of listKept(started.dataDir))
      expect(path.slice(started.dataDir.length)).toMatch(
        /^\/photos\/[0-9a-f]{2}\/[0-9a-f]{2}\/[0-9a-f]{32}-(480|1280|original)(\.jpg)?$/,
      )
    const sent = await started.get('/photos/1/original')
    expect(sent.status).toBe(200)
    expect(sent.headers['set-cookie']).toBeUndefined()
    expect(sent.headers['content-disposition']).toBe(
      `attachment; filename="Rand links Gr??e 50 1.jpg"; filename*=UTF-8''Rand%20links%20Gr%C3%B6%C3%9Fe%2050%201.jpg`,
    )
  })

  test('when the row cannot be written leaves no file', async () => {
    const started = startApp()
    const id = makeOriginal(started.db)
    started.db.raw.exec(
      "create trigger no_photo before insert on photo begin select raise(abort, 'broken on purpose'); end",
    )
    const answer = await sendPhoto(started, `/originals/${id}/photos`, await makeJpeg())
    expect(answer.status).toBe(500)
    expect(answer.text).not.toContain('broken on purpose')
    expect(started.broken).toHaveLength(1)
    expect(listKept(started.dataDir)).toEqual([])
  })
})

describe('the room for photographs', () => {
  const fill = (started: ReturnType<typeof startApp>, originalId: number, bytes: number) =>
    started.db.raw
      .prepare(
        `insert into photo (original_id, part, caption, credit, licence, file, sha256, width, height, bytes, original_bytes, created_at, updated_at)
         values (?, '', 'large', '', '', 'ff', 'ff', 1, 1, ?, 0, '', '')`,
      )
      .run(originalId, bytes)
  const member = (started: ReturnType<typeof startApp>, name: string) =>
    Number(
      started.db.raw
        .prepare(
          "insert into member (name, sign_in_name, password_hash, role, created_at) values (?, ?, '', 'member', '')",
        )
        .run(name, name).lastInsertRowid,
    )

  test('of a member ends at 5 GB, and others are not concerned', async () => {
    const started = startApp(undefined, undefined, { kind: 'lone' })
    const [full, other] = [makeOriginal(started.db), makeOriginal(started.db)]
    const [runa, oss] = [member(started, 'Runa'), member(started, 'Oss')]
    started.db.raw.prepare('update original set owner_id = ? where id = ?').run(runa, full)
    started.db.raw.prepare('update original set owner_id = ? where id = ?').run(oss, other)
    fill(started, full, MEMBER_BYTES - 100)
    const answer = await sendPhoto(started, `/originals/${full}/photos`, await makeJpeg())
    expect(answer.status).toBe(413)
    expect(answer.text).toContain('take 5.00 GB of the 5 GB that each member has')
    expect(answer.text).toContain('value="Left border with fringe"')
    expect(listKept(started.dataDir)).toEqual([])
    expect((await sendPhoto(started, `/originals/${other}/photos`, await makeJpeg())).status).toBe(303)
  })

  test('of the notebook ends at 100 GB', async () => {
    const started = startApp()
    const id = makeOriginal(started.db)
    fill(started, id, NOTEBOOK_BYTES)
    const answer = await sendPhoto(started, `/originals/${id}/photos`, await makeJpeg())
    expect(answer.status).toBe(413)
    expect(answer.text).toContain('Please tell the keeper')
  })
})

describe('where a photograph was taken', () => {
  test('is in nothing that is served, but for the file as it was sent', async () => {
    const started = startApp()
    const id = makeOriginal(started.db)
    const second = 1_234_567
    const sent = await cornered(900, 600)
      .jpeg()
      .withExif({
        IFD0: { Artist: 'Secretname', ImageDescription: '<script>alert(1)</script>' },
        IFD3: {
          ...{ GPSLatitudeRef: 'N', GPSLatitude: `52/1 31/1 ${second}/100003` },
          ...{ GPSLongitudeRef: 'E', GPSLongitude: `13/1 24/1 ${second}/100003` },
        },
      })
      .withXmp('<x:xmpmeta xmlns:x="adobe:ns:meta/">Secretplace</x:xmpmeta>')
      .toBuffer()
    const [little, big] = [Buffer.alloc(4), Buffer.alloc(4)]
    little.writeUInt32LE(second)
    big.writeUInt32BE(second)
    const betrays = (bytes: Buffer) =>
      [little, big, 'Secretname', 'Secretplace', 'alert(1)', 'Exif', 'GPS'].filter((word) => bytes.includes(word))
    expect(betrays(sent).length).toBeGreaterThan(4)

    await sendPhoto(started, `/originals/${id}/photos`, sent)
    for (const path of ['/photos/1', '/photos/1/edit', `/originals/${id}`, '/photos/1/480.jpg', '/photos/1/1280.jpg']) {
      const answer = await started.get(path).buffer(true)
      expect(answer.status, path).toBe(200)
      expect(betrays(answer.body instanceof Buffer ? answer.body : Buffer.from(answer.text)), path).toEqual([])
    }
    for (const path of listKept(started.dataDir).filter((name) => !name.endsWith('-original')))
      expect(betrays(readFileSync(path)), path).toEqual([])
    const row = JSON.stringify(started.db.all(started.db.sql.selectFrom('photo').selectAll()))
    expect(betrays(Buffer.from(row))).toEqual([])
    expect((await started.get('/photos/1/original')).body).toEqual(sent)
  })
})
