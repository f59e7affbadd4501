import { describe, expect, test } from 'vitest'
import { drafts } from '../../seeds-demo/draft/draft.ts'
import { clothPicture } from '../../seeds-demo/photo/cloth-picture.ts'
import { findMissingPhotos } from '../../server/photo/check.ts'
import { startApp } from '../support/start.ts'
import { listKept, makeJpeg, sendPhoto } from './send.ts'

describe('the pictures of the demo collection', () => {
  test('come with it, say that they are none, and go with it', async () => {
    const { db, dataDir, get, post, broken } = startApp()
    await post('/demo')
    expect(broken).toEqual([])
    const photos = db.all(db.sql.selectFrom('photo').selectAll())
    expect(photos).toHaveLength(4)
    for (const { id, caption } of photos) {
      expect(caption).toContain('drawn by the program, not a photograph')
      expect((await get(`/photos/${id}/480.jpg`)).status).toBe(200)
    }
    expect(findMissingPhotos(db, dataDir)).toEqual([])
    const [face, ...others] = db.all(db.sql.selectFrom('observed').select(['id', 'photo_id']))
    expect([face?.photo_id, others]).toEqual([photos.at(-1)?.id, []])
    expect((await get(`/observed/${face?.id}`)).text).toContain(
      '2 of 2,368 legible cells differ from Diagonal meander, revision 2: 0.84 per 1,000.',
    )
    await post('/demo/remove')
    expect(db.all(db.sql.selectFrom('photo').selectAll())).toEqual([])
    expect(db.all(db.sql.selectFrom('observed').selectAll())).toEqual([])
    expect(listKept(dataDir)).toEqual([])
    expect(db.all(db.sql.selectFrom('change').selectAll())).toEqual([])
  })

  test('stay with a piece that the maker has photographed too', async () => {
    const started = startApp()
    const { db, dataDir, post } = started
    await post('/demo')
    // Made later than the collection was loaded.
    db.raw.exec("update photo set created_at = '2026-11-24T11:00:00.000Z', updated_at = '2026-11-24T11:00:00.000Z'")
    for (const table of ['piece', 'claim', 'sitting', 'plan', 'observed'])
      db.raw.exec(`update ${table} set created_at = '2026-11-24T11:00:00.000Z'`)
    for (const table of ['piece', 'sitting', 'plan', 'observed'])
      db.raw.exec(`update ${table} set updated_at = '2026-11-24T11:00:00.000Z'`)
    db.raw.exec("drop trigger loom_step_stays; update loom_step set received_at = '2026-11-24T11:00:00.000Z'")
    const piece = db.first(db.sql.selectFrom('photo').select('piece_id as id'))!
    await sendPhoto(started, `/pieces/${piece.id}/photos`, await makeJpeg())
    await post('/demo/remove')
    expect(db.all(db.sql.selectFrom('piece').select('id'))).toEqual([piece])
    expect(db.all(db.sql.selectFrom('photo').selectAll())).toHaveLength(3)
    expect(findMissingPhotos(db, dataDir)).toEqual([])
  })
})

describe('clothPicture(draft, options)', () => {
  const OPTIONS = { width: 120, height: 90, cordPx: 3, pickPx: 3.5, side: 'face' } as const

  test('shows a cord of each tablet in the colour that its draft weaves, on a ground of another', () => {
    const { data, width, height } = clothPicture(drafts.fret, { ...OPTIONS, height: 200 })
    expect(data).toHaveLength(width * height * 3)
    const [red = 0, green = 0, blue = 0] = data.subarray(((height / 2) * width + 60) * 3)
    const [tableRed = 0, tableGreen = 0, tableBlue = 0] = data
    expect(Math.abs(red - tableRed) + Math.abs(green - tableGreen) + Math.abs(blue - tableBlue)).toBeGreaterThan(60)
  })

  test('is the same each time, and another on the reverse', () => {
    const face = clothPicture(drafts.fret, OPTIONS)
    expect(clothPicture(drafts.fret, OPTIONS)).toEqual(face)
    expect(clothPicture(drafts.fret, { ...OPTIONS, side: 'reverse' }).data).not.toEqual(face.data)
  })
})
