import { Resvg } from '@resvg/resvg-js'
import { readFileSync, writeFileSync } from 'node:fs'
import { connect, type AddressInfo } from 'node:net'
import { join } from 'node:path'
import request from 'supertest'
import { describe, expect, test } from 'vitest'
import { ROUTES } from '../../../server/rights/routes-table.ts'
import { loadDemo } from '../../../seeds-demo/load.ts'
import { listSources, readSource } from '../../prose/source.ts'
import { PASSWORD, startGuild } from '../../support/guild.ts'
import { makeDataDir, migratedDb, NOW, startApp } from '../../support/start.ts'
import { LEVEL_ONE, type Item } from './level-one.ts'
import { listPatterns, nestsRepeats } from './pattern.ts'
import { ROWS } from './rows.ts'

const HOST = 'localhost:4180'
const read = (file: string) => readFileSync(new URL(`../../../${file}`, import.meta.url), 'utf8')

describe('each item of the standard', () => {
  const items: (readonly [string, Item])[] = [
    ...ROWS.map((row) => [row.says, row] as const),
    ...Object.entries(LEVEL_ONE).map(([id, item]) => [`${id} ${item.says}`, item] as const),
  ]

  test.each(items)('%s: is answered, and its tests are there', (_says, { because, tests = [] }) => {
    expect(because).toMatch(/^(pass|not applicable): ./)
    if (because === 'pass: tested') expect(tests.length).toBeGreaterThan(0)
    for (const [file, name] of tests) expect(read(file), `${file}: ${name}`).toContain(name)
  })

  test('there are 48 rows, and 70 items of level 1', () => {
    expect([ROWS.length, Object.keys(LEVEL_ONE).length]).toEqual([48, 70])
  })
})

const TABLES = "select name from sqlite_schema where type = 'table' and name not like 'sqlite_%'"

/** Addresses of everything in the demo collection that a GET leads to. */
const addresses = () =>
  ROUTES.filter(({ method, path }) => method === 'GET' && !/:(token|name|key)|keeper\/check/.test(path)).map(
    ({ path }) => path.replace(':id', '1').replace(':number', '1').replace(':size', '480'),
  )

describe('every address that is read', () => {
  const db = migratedDb()
  loadDemo(db, NOW)
  const { app, get, broken } = startApp(db, makeDataDir())

  test('GET changes nothing, HEAD neither; each answer says its type and charset', async () => {
    const tables = db.raw.prepare<[], string>(TABLES).pluck().all()
    const dump = () => JSON.stringify(tables.map((table) => db.raw.prepare(`select * from ${table}`).all()))
    const before = dump()
    for (const path of addresses()) {
      const answer = await get(path).buffer(true)
      await request(app).head(path).set('Host', HOST)
      expect(answer.status, path).toBeLessThan(500)
      const type = answer.headers['content-type'] ?? ''
      if (![303, 304].includes(answer.status))
        expect(type, path).toMatch(/charset=utf-8|^(image\/|application\/(zip|json))/)
      expect(answer.headers['x-content-type-options'], path).toBe('nosniff')
      expect(answer.headers, path).not.toHaveProperty('access-control-allow-origin')
    }
    expect(dump() === before).toBe(true)
    expect(broken).toEqual([])
  }, 60_000)

  test.each(['/.git/config', '/.env', '/package.json', '/server/main.ts', '/assets/', '/assets/../package.json'])(
    'gives out nothing of how it is made: %s',
    async (path) => {
      const answer = await get(path)
      expect(answer.status).toBe(404)
      expect(answer.text).not.toMatch(/better-sqlite3|\[core\]|Index of/)
    },
  )

  test.each([
    '/assets/%252e%252e/package.json',
    '/photos/%2e%2e%2f1',
    '/sources/%2531',
    '/sources/1%00',
    '/originals/%c0%ae',
    '/bin/source/..%5c1',
  ])('%s is decoded once, and is nothing', async (path) => {
    expect([400, 404]).toContain((await get(path)).status)
    expect(broken).toEqual([])
  })

  test.each(["'", '1;--', '%', '_', '\0', '"', '*', 'NEAR(a b)', 'title:x', '(', '[a', '.*', 'a OR', '^a', '{a b}:'])(
    'words of SQL, of the index and of patterns are only words: %j',
    async (text) => {
      const q = encodeURIComponent(text)
      for (const path of [
        `/search?q=${q}`,
        `/search?q=${q}&kind=${q}&after=${q}`,
        `/pieces?maker=${q}&status=${q}&after=${q}`,
      ])
        expect((await get(path)).status, path).toBeLessThan(500)
      expect(broken).toEqual([])
    },
  )
})

test.each(['-1', 'NaN', '1e309', '1000000000000', 'Infinity', '0x10', '１', ''])(
  'numbers that are none are refused with the form, never a breakdown: %j',
  async (text) => {
    const { db, post, broken } = startApp()
    loadDemo(db, NOW)
    const claim = { feature: 'width', kind: 'value', unit: 'mm', state: 'offTension', basis: 'seen', value: text }
    expect((await post('/originals/1/claims', { ...claim, n: '-1' })).status).toBe(422)
    const sitting = { stage: 'weave', day: text, zone: 'Europe/Berlin', minutes: text, picks: text, lengthUnit: 'cm' }
    expect((await post('/pieces/1/sittings', sitting)).status).toBe(422)
    for (const path of ['/originals', '/pieces', '/drafts'])
      expect((await post(`${path}/${text || 'x'}`)).status).toBe(404)
    expect(broken).toEqual([])
  },
)

test('two lengths, a length beside chunks, and chunks that are none are refused, over a bare connection', async () => {
  const server = startApp().app.listen(0, '127.0.0.1')
  await new Promise<void>((resolve) => (server.listening ? resolve() : server.once('listening', resolve)))
  const ask = (headers: string, body: string) =>
    new Promise<string>((resolve, reject) => {
      const head = `POST /sources HTTP/1.1\r\nHost: localhost\r\nOrigin: http://localhost\r\nConnection: close\r\n`
      const socket = connect((server.address() as AddressInfo).port, '127.0.0.1', () =>
        socket.end(`${head}${headers}\r\n\r\n${body}`),
      )
      let answer = ''
      socket.on('data', (part) => (answer += part.toString()))
      socket.on('close', () => resolve(answer.split('\r\n')[0] ?? ''))
      socket.on('error', reject)
    })
  expect(await ask('Content-Length: 3\r\nContent-Length: 4', 'a=bc')).toContain(' 400 ')
  expect(await ask('Content-Length: 3\r\nTransfer-Encoding: chunked', '0\r\n\r\n')).toContain(' 400 ')
  expect(await ask('Transfer-Encoding: chunked', 'zz\r\na\r\n0\r\n\r\n')).toContain(' 400 ')
  await new Promise((resolve) => server.close(resolve))
})

describe('the program', () => {
  test('starts no other program, asks nobody, and evaluates no text', () => {
    const found = listSources('server', ['.ts']).filter((path) =>
      /child_process|\beval\(|new Function|node:vm'|node:https?'|\bfetch\(|createConnection/.test(
        readSource(path).replace(/import \{ runInNewContext \}[^\n]*/g, ''),
      ),
    )
    expect(found.filter((path) => !KNOWN.includes(path))).toEqual([])
  })

  test('XML is read only where we wrote it ourselves, and an outer entity in it is never fetched', () => {
    const readers = /DOMParser|resvg|xml2js|fast-xml|libxml|\bsax\b/
    const found = ['server', 'shared', 'views/client'].flatMap((folder) =>
      listSources(folder, ['.ts', '.mjs']).filter((path) => readers.test(readSource(path))),
    )
    expect(found.length).toBeGreaterThan(2)
    expect(found.filter((path) => !OF_OUR_OWN_XML.includes(path))).toEqual([])
    // Were a picture of ours ever to hold one: a grey square of a file outside stays out, and its text is not drawn.
    const outer = (name: string) => `<!DOCTYPE svg [<!ENTITY outer SYSTEM "file://${name}">]>
      <svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><rect width="9" height="9" fill="#fff"/>&outer;</svg>`
    const file = join(makeDataDir(), 'square.xml')
    writeFileSync(file, '<rect xmlns="http://www.w3.org/2000/svg" width="9" height="9" fill="#777"/>')
    const drawn = () => new Resvg(outer(file), { font: { loadSystemFonts: false } }).render().pixels
    let pixels: Uint8Array = Buffer.from([])
    try {
      pixels = drawn()
    } catch (error) {
      expect(String(error)).toMatch(/entity|parse|reference/i)
    }
    expect(pixels.includes(0x77)).toBe(false)
  })

  test('no pattern repeats what repeats: nothing of the sources can run away', () => {
    const patterns = ['server', 'shared', 'views/client'].flatMap((folder) =>
      listSources(folder, ['.ts']).flatMap((path) => listPatterns(path, readSource(path))),
    )
    expect(patterns.length).toBeGreaterThan(100)
    expect(
      patterns.filter(({ source }) => nestsRepeats(source)).map(({ path, source }) => `${path}: /${source}/`),
    ).toEqual([])
  })
})

/**
 * `within-time` runs our own Markdown within a time, in a context of its own, and evaluates nothing that came in; `main`
 * makes the server that is asked, and asks nobody.
 */
const KNOWN = ['server/within-time.ts', 'server/main.ts']

/** Each parses a picture that `shared` has drawn, every word in it escaped. Photographs take no SVG: `tests/photo/hostile`. */
const OF_OUR_OWN_XML = [
  'server/draft-export/png.ts',
  'views/client/draft-bench/threading.ts',
  'views/client/draft/live-picture.ts',
  'views/client/plan/write-sheet.ts',
]

test.each([
  ['(a+)+$', true],
  ['^(\\d*)*x', true],
  ['(?:a|b+)*', true],
  ['([a-z]+\\s?)+$', true],
  ['^(\\/[\\w.]+)*$', false],
  ['([a-z-]+\\.)+x', false],
  ['(a{1,3}){2}', false],
  ['a+b+', false],
  ['[(a+)+]', false],
])('nestsRepeats(%j) is %s', (source, expected) => {
  expect(nestsRepeats(source)).toBe(expected)
})

describe('signing in', () => {
  test('passwords can be pasted, are typed hidden, and are known to password managers', async () => {
    const { text } = await startGuild().browser().get('/sign-in')
    expect(text).toMatch(/type="password"[^>]*autocomplete="current-password"/)
    expect(text).not.toMatch(/onpaste|autocomplete="off"[^>]*type="password"/)
  })

  test('the log of all that happens holds no secret', async () => {
    const guild = startGuild()
    await guild.person('oda', 'keeper')
    const browser = await guild.signedIn('oda')
    await guild.browser().post('/sign-in', { signInName: 'oda', password: 'a wrong password of mine' })
    const invite =
      /\/invite\/([\w-]{43})/.exec((await browser.post('/members/invite', { role: 'member' })).text)?.[1] ?? ''
    await browser.post('/account/tokens', { name: 'x\r\n{"event":"forged"}', scope: 'read', days: '7' })
    await browser.post('/account/password', { present: PASSWORD, password: 'nine otters under the bridge' })
    const log = JSON.stringify(guild.logged)
    expect(invite).not.toBe('')
    for (const secret of [PASSWORD, 'a wrong password of mine', 'nine otters', invite, ...browser.cookies.values()])
      expect(log).not.toContain(secret)
    expect(guild.logged.map(({ event }) => event)).toContain('sign-in-failed')
  })
})
