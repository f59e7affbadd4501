import { deflateSync } from 'node:zlib'
import { readFileSync } from 'node:fs'
import sharp from 'sharp'
import request from 'supertest'
import { beforeAll, describe, expect, test } from 'vitest'
import { makeOriginal } from '../support/make.ts'
import { startApp } from '../support/start.ts'
import { listKept, makeJpeg, sendPhoto } from './send.ts'

const svg = Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><script>alert(1)</script></svg>')
const html = Buffer.from('<!doctype html><script>alert(1)</script>')
const gif = Buffer.from('R0lGODlhAQABAIAAAAAAAP///yH5BAEAAAAALAAAAAABAAEAAAIBRAA7', 'base64')
const heic = Buffer.concat([Buffer.from([0, 0, 0, 24]), Buffer.from('ftypheic'), Buffer.alloc(64)])
const zip = Buffer.concat([Buffer.from('PK\u0003\u0004'), Buffer.alloc(80)])

let jpeg: Buffer
beforeAll(async () => {
  jpeg = await makeJpeg({ width: 1500, height: 1000 })
})

/** Each file with the status of its refusal and a part of what is said. */
const HOSTILE: readonly (readonly [
  name: string,
  file: () => Buffer | Promise<Buffer>,
  status: number,
  said: string,
])[] = [
  ['an SVG', () => svg, 415, 'holds no JPEG, PNG or WebP'],
  ['HTML', () => html, 415, 'holds no JPEG, PNG or WebP'],
  ['a GIF', () => gif, 415, 'holds no JPEG, PNG or WebP'],
  ['a ZIP', () => zip, 415, 'holds no JPEG, PNG or WebP'],
  [
    'a TIFF',
    () =>
      sharp({ create: black(20, 20) })
        .tiff()
        .toBuffer(),
    415,
    'holds no JPEG, PNG or WebP',
  ],
  [
    'an AVIF',
    () =>
      sharp({ create: black(20, 20) })
        .avif()
        .toBuffer(),
    415,
    'holds no JPEG, PNG or WebP',
  ],
  ['a HEIC of an iPhone', () => heic, 415, 'Most Compatible'],
  ['nothing at all', () => Buffer.alloc(0), 415, 'holds no JPEG, PNG or WebP'],
  ['a JPEG that is cut off', () => jpeg.subarray(0, jpeg.length / 2), 422, 'damaged'],
  ['a JPEG of its first bytes alone', () => jpeg.subarray(0, 20), 422, 'damaged'],
  ['an SVG behind the first bytes of a PNG', () => Buffer.concat([PNG_HEAD, svg]), 422, 'damaged'],
  ['a PNG of 900 megapixels in a few kilobytes', () => makePng(30_000, 30_000), 413, '900 megapixels'],
  ['a PNG of 256 megapixels', () => makePng(16_000, 16_000), 413, '256 megapixels'],
  ['a PNG that promises more than it holds', () => makePng(5000, 5000, 10), 422, 'damaged'],
  ['a PNG with a broken checksum', () => breakByte(makePng(50, 50), 50), 422, 'damaged'],
  ['a WebP that is cut off', async () => (await sharp(jpeg).webp().toBuffer()).subarray(0, 200), 422, 'damaged'],
]

describe('POST /originals/:id/photos with a file that is no photograph', () => {
  test.each(HOSTILE)('%s, called a JPEG, is refused by what it holds', async (_name, make, status, said) => {
    const started = startApp()
    const answer = await sendPhoto(started, `/originals/${makeOriginal(started.db)}/photos`, await make())
    expect(answer.text).toContain(said)
    expect(answer.status).toBe(status)
    expect(answer.text).toContain('value="Left border with fringe"')
    expect(listKept(started.dataDir)).toEqual([])
    expect(started.broken).toEqual([])
  })
})

describe('POST /originals/:id/photos with a file that is more than a photograph', () => {
  test('a JPEG with a script and a ZIP behind it is shown without them', async () => {
    const started = startApp()
    const tail = Buffer.concat([html, zip])
    await sendPhoto(started, `/originals/${makeOriginal(started.db)}/photos`, Buffer.concat([jpeg, tail]))
    const served = listKept(started.dataDir).filter((path) => path.endsWith('.jpg'))
    expect(served).toHaveLength(3)
    for (const path of served)
      expect(readFileSync(path).includes(html) || readFileSync(path).includes('PK\u0003\u0004')).toBe(false)
  })

  test('of a WebP that moves the first picture is kept', async () => {
    const started = startApp()
    const frames = Buffer.concat([Buffer.alloc(40 * 30 * 3, 0), Buffer.alloc(40 * 30 * 3, 255)])
    const moving = await sharp(frames, { raw: { width: 40, height: 60, channels: 3, pageHeight: 30 } })
      .webp({ loop: 0, delay: [100, 100] })
      .toBuffer()
    expect((await sharp(moving, { animated: true }).metadata()).pages).toBe(2)
    await sendPhoto(started, `/originals/${makeOriginal(started.db)}/photos`, moving)
    const shown = sharp((await started.get('/photos/1/480.jpg')).body as Buffer)
    expect((await shown.metadata()).height).toBe(30)
    expect((await shown.stats()).channels[0]?.max).toBeLessThan(10)
  })
})

describe('POST /originals/:id/photos with a form that is none', () => {
  const BOUNDARY = 'xx'
  const part = (head: string, body: string) => `--${BOUNDARY}\r\n${head}\r\n\r\n${body}\r\n`
  const FILE = 'Content-Disposition: form-data; name="photo"; filename="a.jpg"\r\nContent-Type: image/jpeg'
  const field = (name: string) => part(`Content-Disposition: form-data; name="${name}"`, 'x')
  const END = `--${BOUNDARY}--\r\n`

  test.each([
    ['no end', part(FILE, 'abc'), 400],
    ['nothing', '', 400],
    ['a head and no body', `--${BOUNDARY}\r\n${FILE}\r\n--${BOUNDARY}--\r\n`, 400],
    ['two files', part(FILE, 'abc') + part(FILE, 'def') + END, 413],
    ['a file where none belongs', part(FILE.replace('photo', 'caption'), 'abc') + END, 413],
    ['a hundred fields', Array.from({ length: 100 }, (_, at) => field(`f${at}`)).join('') + END, 413],
    ['a field in a field in a field', field('a[b][c]') + END, 413],
    ['a field of 100 kB', part('Content-Disposition: form-data; name="caption"', 'x'.repeat(100_000)) + END, 413],
    ['a field without a name', part('Content-Disposition: form-data', 'x') + END, 413],
    ['the field __proto__', field('__proto__') + END, 422],
    ['the field constructor[prototype][x]', field('constructor[prototype][x]') + END, 413],
    ['brackets in brackets, 5,000 deep', field(`a${'[b'.repeat(5_000)}`) + END, 413],
    ['a head of 100 kB', part(`${FILE}\r\nX-Long: ${'x'.repeat(100_000)}`, 'abc') + END, 400],
    ['another boundary within', part(FILE, 'abc').replaceAll(BOUNDARY, 'yy'), 400],
  ])('%s is refused and leaves nothing', async (_name, body, status) => {
    const started = startApp()
    const answer = await request(started.app)
      .post(`/originals/${makeOriginal(started.db)}/photos`)
      .set({ Host: 'localhost:4180', Origin: 'http://localhost:4180' })
      .set('Content-Type', `multipart/form-data; boundary=${BOUNDARY}`)
      .send(body)
    expect(answer.status).toBe(status)
    expect(listKept(started.dataDir)).toEqual([])
    expect(started.broken).toEqual([])
  })

  test('without a boundary is refused', async () => {
    const started = startApp()
    const answer = await request(started.app)
      .post(`/originals/${makeOriginal(started.db)}/photos`)
      .set({ Host: 'localhost:4180', Origin: 'http://localhost:4180', 'Content-Type': 'multipart/form-data' })
      .send('abc')
    expect(answer.status).toBe(400)
    expect(started.broken).toEqual([])
  })
})

function black(width: number, height: number) {
  return { width, height, channels: 3 as const, background: '#000000' }
}

const PNG_HEAD = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])

/** Black and white, one bit a pixel; with `rows` given it holds fewer rows than it says. PNG 3rd edition, 5 and 11.2. */
function makePng(width: number, height: number, rows = height): Buffer {
  const head = Buffer.alloc(13)
  head.writeUInt32BE(width, 0)
  head.writeUInt32BE(height, 4)
  head[8] = 1
  const pixels = deflateSync(Buffer.alloc((Math.ceil(width / 8) + 1) * rows), { level: 1 })
  return Buffer.concat([PNG_HEAD, chunk('IHDR', head), chunk('IDAT', pixels), chunk('IEND', Buffer.alloc(0))])
}

function chunk(type: string, data: Buffer): Buffer {
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)]
  length.writeUInt32BE(data.length)
  const checked = Buffer.concat([Buffer.from(type), data])
  check.writeUInt32BE(crc32(checked))
  return Buffer.concat([length, checked, check])
}

/** PNG 3rd edition, annex D. */
function crc32(bytes: Buffer): number {
  let crc = 0xffffffff
  for (const byte of bytes) {
    crc ^= byte
    for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1
  }
  return (crc ^ 0xffffffff) >>> 0
}

function breakByte(bytes: Buffer, at: number): Buffer {
  const broken = Buffer.from(bytes)
  broken[at] = (broken[at] ?? 0) ^ 0xff
  return broken
}
