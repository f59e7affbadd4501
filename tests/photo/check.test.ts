import { mkdirSync, readFileSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { findMissingPhotos, findOrphans, listPhotoFiles, sweepOrphans, sweepStaging } from '../../server/photo/check.ts'
import { makeOriginal } from '../support/make.ts'
import { startApp, type Started } from '../support/start.ts'
import { listKept, makeJpeg, sendPhoto, WORDS } from './send.ts'

const YESTERDAY = new Date('2026-11-23T12:00:00Z')
const AN_HOUR_AGO = new Date('2026-11-24T11:00:00Z')

async function withPhoto(): Promise<Started> {
  const started = startApp()
  await sendPhoto(started, `/originals/${makeOriginal(started.db)}/photos`, await makeJpeg())
  return started
}

function putFile(dataDir: string, name: string, at: Date): void {
  mkdirSync(dirname(join(dataDir, name)), { recursive: true })
  writeFileSync(join(dataDir, name), 'left behind')
  utimesSync(join(dataDir, name), at, at)
}

describe('listPhotoFiles(dataDir)', () => {
  test('lists each file of each photograph with its size', async () => {
    const { dataDir } = await withPhoto()
    const files = listPhotoFiles(dataDir)
    expect(files.map(({ name }) => name.replace(/[0-9a-f]{2}\/[0-9a-f]{2}\/[0-9a-f]{32}/, '…'))).toEqual([
      ...['photos/…-1280.jpg', 'photos/…-480.jpg', 'photos/…-original'],
    ])
    for (const { name, bytes } of files) expect(bytes).toBe(statSync(join(dataDir, name)).size)
  })

  test('of a notebook without any is empty', () => {
    expect(listPhotoFiles(startApp().dataDir)).toEqual([])
  })
})

describe('findOrphans(db, dataDir)', () => {
  test('finds none where all is well, and what lies in the bin is none', async () => {
    const started = await withPhoto()
    expect(findOrphans(started.db, started.dataDir)).toEqual([])
    await started.post('/photos/1/delete')
    expect(findOrphans(started.db, started.dataDir)).toEqual([])
  })

  test('finds files without a row, and what lies half written', async () => {
    const { db, dataDir } = await withPhoto()
    putFile(dataDir, 'photos/ab/cd/stray.jpg', YESTERDAY)
    putFile(dataDir, 'staging/upload-1', YESTERDAY)
    putFile(dataDir, 'staging/somebody/else', YESTERDAY)
    expect(findOrphans(db, dataDir).map(({ name }) => name)).toEqual(['photos/ab/cd/stray.jpg', 'staging/upload-1'])
  })
})

describe('sweepOrphans(db, dataDir, writtenBefore)', () => {
  test('takes the old ones away, leaves the young ones and every photograph, and says which', async () => {
    const started = await withPhoto()
    const { db, dataDir } = started
    const before = listKept(dataDir)
    for (const path of before) utimesSync(path, YESTERDAY, YESTERDAY)
    putFile(dataDir, 'photos/ab/cd/old.jpg', YESTERDAY)
    putFile(dataDir, 'photos/ab/cd/young.jpg', new Date('2026-11-24T11:30:00Z'))
    expect(sweepOrphans(db, dataDir, AN_HOUR_AGO).map(({ name }) => name)).toEqual(['photos/ab/cd/old.jpg'])
    expect(listKept(dataDir).sort()).toEqual([...before, join(dataDir, 'photos/ab/cd/young.jpg')].sort())
  })

  test('of a photograph that was purged takes its files', async () => {
    const { db, dataDir } = await withPhoto()
    db.run(db.sql.deleteFrom('photo'))
    expect(sweepOrphans(db, dataDir, new Date('9999-01-01'))).toHaveLength(3)
    expect(listKept(dataDir)).toEqual([])
  })
})

describe('sweepStaging(dataDir, writtenBefore)', () => {
  test('takes what is old and half written, and nothing of the photographs', async () => {
    const { dataDir } = await withPhoto()
    putFile(dataDir, 'staging/upload-1', YESTERDAY)
    putFile(dataDir, 'staging/upload-2', new Date('2026-11-24T11:59:00Z'))
    putFile(dataDir, 'photos/ab/cd/stray.jpg', YESTERDAY)
    expect(sweepStaging(dataDir, AN_HOUR_AGO).map(({ name }) => name)).toEqual(['staging/upload-1'])
    expect(listKept(dataDir)).toHaveLength(5)
  })
})

describe('findMissingPhotos(db, dataDir)', () => {
  test('names the row and the files that are gone', async () => {
    const { db, dataDir } = await withPhoto()
    expect(findMissingPhotos(db, dataDir)).toEqual([])
    const gone = listPhotoFiles(dataDir).find(({ name }) => name.endsWith('-480.jpg'))!
    rmSync(join(dataDir, gone.name))
    expect(findMissingPhotos(db, dataDir)).toEqual([{ id: 1, caption: WORDS.caption, names: [gone.name] }])
  })
})

describe('a photograph whose files are gone', () => {
  test('is told of on every page that shows it, and is nowhere a 500', async () => {
    const started = await withPhoto()
    rmSync(join(started.dataDir, 'photos'), { recursive: true })
    expect((await started.get('/photos/1')).text).toContain(
      'is missing from the notebook&#x27;s folder'.replace('&#x27;', "'"),
    )
    expect((await started.get('/originals/1')).text).toContain('The file of this photograph is missing')
    for (const path of ['/photos/1/480.jpg', '/photos/1/original']) {
      const answer = await started.get(path)
      expect(answer.status).toBe(404)
      expect(answer.headers['content-type']).toContain('text/html')
      expect(answer.headers['content-disposition']).toBeUndefined()
    }
    expect(started.broken).toEqual([])
  })

  test('that is of another kind by now is not offered', async () => {
    const started = await withPhoto()
    const original = listKept(started.dataDir).find((path) => path.endsWith('-original'))!
    expect(readFileSync(original)[0]).toBe(0xff)
    writeFileSync(original, '<svg/>')
    expect((await started.get('/photos/1/original')).status).toBe(404)
  })
})
