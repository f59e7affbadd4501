import { existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import request from 'supertest'
import { describe, expect, test } from 'vitest'
import { canonicalJson } from '../../shared/archive/canonical.ts'
import { toJson, type Notebook } from '../../server/archive/notebook.ts'
import { startApp, type Started } from '../support/start.ts'
import { dump } from '../demo/dump.ts'
import { fakeJpeg, sha256 } from './archive-file.ts'
import { rawZip, type RawEntry } from './raw-zip.ts'

const EMPTY: Notebook = {
  features: [],
  records: {
    source: [],
    original: [],
    draft: [],
    piece: [],
    claim: [],
    sitting: [],
    photo: [],
    observed: [],
    yarn: [],
    lot: [],
    movement: [],
    plan: [],
    loom_step: [],
    fibre_density: [],
    ...{ forecast: [], quote: [], quote_terms: [] },
    ...{ judgement: [], decision: [], weighting: [] },
  },
}
const WORDS = canonicalJson(toJson(EMPTY))
const UID = 'ab'.repeat(16)

/** A good archive of nothing, with what makes it a bad one; all of it stands in the manifest, so that no hash betrays it. */
function archiveWith(...entries: RawEntry[]): RawEntry[] {
  const all: RawEntry[] = [{ name: 'notebook.json', content: WORDS }, ...entries]
  const files = all.map(({ name, content = '' }) => [
    String(name),
    { sha256: sha256(Buffer.from(content)), bytes: Buffer.from(content).length },
  ])
  return [...all, { name: 'manifest.json', content: JSON.stringify({ files: Object.fromEntries(files) as object }) }]
}

const sendTo = ({ app }: Started, zip: Buffer) =>
  request(app)
    .post('/import')
    .set('Host', 'localhost:4180')
    .set('Origin', 'http://localhost:4180')
    .attach('archive', zip, 'archive.zip')

async function expectRefused(zip: Buffer, sentence: RegExp): Promise<void> {
  const started = startApp()
  const before = dump(started.db)
  const answer = await sendTo(started, zip)
  expect(answer.status).toBe(422)
  expect(answer.text).toMatch(sentence)
  expect(answer.text).toContain('Nothing was changed.')
  expect(started.broken).toEqual([])
  expect(dump(started.db)).toEqual(before)
  const staging = join(started.dataDir, 'staging')
  expect(existsSync(staging) ? readdirSync(staging) : []).toEqual([])
  expect(existsSync(join(started.dataDir, 'photos'))).toBe(false)
}

const zeros = Buffer.alloc(64 * 1024 ** 2)
const photo = (file: string, content: Buffer | string): RawEntry => ({ name: `photographs/${UID}/${file}`, content })

describe('POST /import', () => {
  test('takes a good archive of nothing, so that the others are refused for what they are', async () => {
    const started = startApp()
    const answer = await sendTo(started, rawZip(archiveWith(photo('480.jpg', fakeJpeg('a')))))
    expect(answer.status).toBe(200)
    expect(answer.text).toContain('Nothing has been brought in yet.')
  })

  test.each<[string, Buffer, RegExp]>([
    ['a name that climbs out', rawZip(archiveWith({ name: '../evil.txt' })), /cannot be read: invalid relative path/],
    ['an absolute name', rawZip(archiveWith({ name: '/etc/evil' })), /cannot be read: absolute path/],
    ['a name with a drive', rawZip(archiveWith({ name: 'C:/evil.txt' })), /cannot be read: absolute path/],
    ['a name with a backslash', rawZip(archiveWith({ name: 'csv\\evil.csv' })), /cannot be read: invalid characters/],
    ['a name with a NUL', rawZip(archiveWith({ name: 'csv/a.csv\0.txt' })), /is not part of an archive/],
    ['a name of its own', rawZip(archiveWith({ name: 'run.sh' })), /is not part of an archive/],
    ['a zip in the zip', rawZip(archiveWith({ name: 'more.zip', content: rawZip([]) })), /is not part of an archive/],
    [
      'a symbolic link',
      rawZip(archiveWith({ name: 'README.txt', content: '/etc/passwd', mode: 0o120777 })),
      /is a link/,
    ],
    ['a device', rawZip(archiveWith({ name: 'README.txt', mode: 0o020666 })), /is a link or a device/],
    ['two entries of one name', rawZip(archiveWith({ name: 'notebook.json', content: WORDS })), /is there twice/],
    ['a wrong CRC', rawZip(archiveWith({ name: 'README.txt', content: 'hello', crc: 1 })), /its CRC is another/],
    [
      'an entry that is longer than it says',
      rawZip(archiveWith({ name: 'README.txt', content: 'x'.repeat(5000), deflate: true, size: 10 })),
      /README.txt/,
    ],
    [
      'an entry that is shorter than it says',
      rawZip(archiveWith({ name: 'README.txt', content: 'x'.repeat(5000), deflate: true, size: 9000 })),
      /README.txt/,
    ],
    [
      'an encrypted entry',
      rawZip(archiveWith({ name: 'README.txt', content: 'x'.repeat(13), size: 1, flags: 0x801 })),
      /is encrypted/,
    ],
    ['strong encryption', rawZip(archiveWith({ name: 'README.txt', content: 'x', flags: 0x841 })), /encrypt/],
    [
      'an unusual packing',
      rawZip(archiveWith({ name: 'README.txt', content: 'x', method: 14 })),
      /packed in an unusual way/,
    ],
    [
      'two names of one entry',
      rawZip(archiveWith({ name: 'README.txt', content: 'x', localName: 'readme.sh!' })),
      /has two names/,
    ],
    [
      'entries that share bytes',
      rawZip(archiveWith({ name: 'README.txt', content: 'x' }, { name: 'csv/a.csv', content: 'x', shares: 1 })),
      /shares bytes|has two names/,
    ],
    ['data after its end', rawZip(archiveWith(), { after: 'more' }), /cannot be read/],
    ['a comment after its end', rawZip(archiveWith(), { comment: 'hello' }), /has a comment/],
    ['something before its start', rawZip(archiveWith(), { before: 'MZ' }), /stands before the first entry/],
    ['60,000 entries', rawZip(Array.from({ length: 60_000 }, (_, at) => ({ name: `csv/${at}.csv` }))), /60000 entries/],
    [
      '64 MB of zeros',
      rawZip(archiveWith({ name: 'README.txt', content: zeros, deflate: true })),
      /100 times its size/,
    ],
    [
      '4 GB of the same bytes',
      rawZip(
        Array.from({ length: 3 }, (_, at) => ({
          name: `csv/${'abc'[at]}.csv`,
          content: 'x',
          size: 0xfffffff0,
          packedSize: 0xfffffff0,
        })),
      ),
      /8 GB/,
    ],
    ['no manifest', rawZip([{ name: 'notebook.json', content: WORDS }]), /There is no manifest.json/],
    ['no notebook', rawZip(archiveWith().slice(1)), /notebook.json is missing/],
    [
      'a file that the manifest does not list',
      rawZip([...archiveWith(), { name: 'README.txt' }]),
      /is not in the manifest/,
    ],
    [
      'a file that was changed',
      rawZip([
        { name: 'README.txt', content: 'b' },
        ...archiveWith({ name: 'README.txt', content: 'a' }).filter(({ name }) => name !== 'README.txt'),
      ]),
      /its SHA-256 is another/,
    ],
    ['a page for a picture', rawZip(archiveWith(photo('480.jpg', '<html><script>alert(1)</script>'))), /holds no JPEG/],
    [
      'a picture with notes of the camera',
      rawZip(archiveWith(photo('480.jpg', Buffer.from('ffd8ffe1000845786966000000', 'hex')))),
      /has notes of a camera/,
    ],
    ['no zip at all', Buffer.from('hello'), /cannot be read/],
    ['nothing', Buffer.alloc(0), /cannot be read/],
  ])('refuses %s, says why, and leaves nothing behind', async (_what, zip, sentence) => {
    await expectRefused(zip, sentence)
  })

  test.each<[string, (words: Record<string, unknown[]>) => unknown, RegExp]>([
    ['a format of its own', (words) => ({ ...words, format: 'other' }), /no archive of Fellmark/],
    ['a version to come', (words) => ({ ...words, version: 2 }), /a newer Fellmark wrote this archive/],
    ['a field of its own', (words) => ({ ...words, members: [] }), /there is a field that no archive has: members/],
    ['a list that is none', (words) => ({ ...words, claims: {} }), /claims: /],
    ['a record without its fields', (words) => ({ ...words, sources: [{ uid: UID }] }), /sources\[0\]\.title: /],
    [
      'a script behind a link',
      (words) => ({ ...words, sources: [{ ...SOURCE, url: 'javascript:alert(1)' }] }),
      /sources\[0\]\.url: A web address/,
    ],
    [
      'an owner',
      (words) => ({ ...words, sources: [{ ...SOURCE, ownerId: 1 }] }),
      /sources\[0\]: there is a field that no archive has: ownerId/,
    ],
    ['one uid twice', (words) => ({ ...words, sources: [SOURCE, SOURCE] }), /is there twice/],
    [
      'a sitting without its piece',
      (words) => ({ ...words, sittings: [{ ...SITTING, piece: null }] }),
      /sittings\[0\]: it belongs to no piece/,
    ],
    [
      'a break longer than the sitting',
      (words) => ({ ...words, sittings: [{ ...SITTING, breakMinutes: 61 }] }),
      /its breaks are longer/,
    ],
    [
      'a day that is none',
      (words) => ({ ...words, sittings: [{ ...SITTING, day: '2026-02-30' }] }),
      /sittings\[0\]\.day: This is no day/,
    ],
  ])('refuses words with %s, with its place', async (_what, change, sentence) => {
    const words = JSON.stringify(change(JSON.parse(WORDS) as Record<string, unknown[]>))
    const files = { 'notebook.json': { sha256: sha256(words), bytes: Buffer.from(words).length } }
    await expectRefused(
      rawZip([
        { name: 'notebook.json', content: words },
        { name: 'manifest.json', content: JSON.stringify({ files }) },
      ]),
      sentence,
    )
  })

  test('without a file asks for one', async () => {
    const started = startApp()
    const answer = await request(started.app)
      .post('/import')
      .set('Host', 'localhost:4180')
      .set('Origin', 'http://localhost:4180')
      .field('x', '1')
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('Please choose the archive')
  })
})

const AT = '2026-11-24T12:00:00.000Z'
const SOURCE = {
  ...{ uid: UID, title: 'T', people: '', container: '', year: '', pages: '', doi: '', isbn: '', kind: 'book', url: '' },
  ...{ notes: '', demo: false, visibility: 'private', deletedAt: null, createdAt: AT, updatedAt: AT },
}
const SITTING = {
  ...{
    uid: UID,
    piece: UID,
    maker: '',
    stage: 'weave',
    zone: 'UTC',
    day: '2026-01-01',
    startedAt: null,
    endedAt: null,
  },
  ...{ minutes: 60, breakMinutes: 0, picks: null, repeats: null, lengthMm: null, note: '', deletedAt: null },
  ...{ createdAt: AT, updatedAt: AT },
}
