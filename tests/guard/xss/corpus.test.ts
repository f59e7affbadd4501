import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { readAsset } from '../../../server/asset.ts'
import { ROUTES } from '../../../server/rights/routes-table.ts'
import { launchChromium } from '../../support/chromium.ts'
import { makePeople } from '../../support/people.ts'
import { WITHOUT_WORDS } from './fields.ts'
import { createFiller, groupPayloads } from './fill.ts'
import { sendNewcomers } from './newcomer.ts'
import { PAYLOADS, samplePayloads } from './payloads.ts'
import { fillAlone, fillGroup, fillRest, pagesOf, type Things } from './scene.ts'
import { sendPicture, sendWrong } from './wrong.ts'
import { listFormulaCells, listFormulas } from './cells.ts'
import { openWatched } from './watched.ts'
import { openDetector, startTarget, type Answer, type Detector, type Target } from './target.ts'

let browser: Browser
let target: Target
let detector: Detector
/** Some of each family; all of them by `npm run corpus`. */
const isWhole = process.env.LONG === 'yes'
const payloads = isWhole ? PAYLOADS : samplePayloads(6)
const groups = groupPayloads(payloads)
/** Routes that were asked, in this notebook and in those beside it. */
const asked = new Set<string>()
const things: Things[] = []
const live: string[] = []
const kinds = new Map<string, number>()
const waiting: { where: string; text: string; type: string }[] = []
const looking: Promise<void>[] = []

/** The one page that has its policy, style and script within it: these, letter for letter, are no find; all else in it is. */
function withoutOwnParts(text: string): string {
  const script = readAsset('loom.js').replaceAll('</script', '<\\/script')
  return text
    .replace(/<meta http-equiv="Content-Security-Policy" content="default-src 'none'; [^"]*">/, '')
    .replace(`<style>${readAsset('loom-file.css')}</style>`, '')
    .replace(`<script type="module">${script}</script>`, '')
}

/** Pages go to the browser forty at a time, while the next ones are asked for. */
function keep(where: string, { text, type, status, bytes }: Answer): void {
  const parsed = type === 'image/svg+xml' ? type : type === 'text/html' ? type : ''
  kinds.set(where.replace(/\d+/g, 'N'), (kinds.get(where.replace(/\d+/g, 'N')) ?? 0) + 1)
  if (status >= 500) live.push(`${where}: answered with ${status}`)
  if (type === 'text/csv')
    live.push(...listFormulaCells(bytes).map((cell) => `${where}: the cell ${cell} is a formula`))
  const shown = where.includes('/loom/file.html') ? withoutOwnParts(text) : text
  if (parsed !== '') waiting.push({ where, text: shown, type: parsed })
  if (waiting.length >= 40) look()
}
function look(): void {
  const batch = waiting.splice(0)
  looking.push(
    detector.findLiveIn(batch.map(({ text, type }) => [text, type])).then((found) => {
      found.forEach((each, at) => live.push(...each.map((what) => `${batch[at]!.where}: ${what}`)))
    }),
  )
}
async function settle(): Promise<string[]> {
  look()
  await Promise.all(looking)
  return live.slice(0, 20)
}

/**
 * Five groups in one text: a page shows again whatever was sent to it, however long. It is longer than any line may be, or a
 * form of nothing but words would take it.
 */
const sayMany = (at: number) => {
  const words = groups.slice(at * 5, at * 5 + 5).flat()
  return Array<string>(Math.ceil(400 / words.join(' ').length))
    .fill(words.join(' '))
    .join(' ')
}

let filler: ReturnType<typeof createFiller>
beforeAll(async () => {
  browser = await launchChromium()
  detector = await openDetector(await browser.newPage())
  target = await startTarget((db) => ({ ...makePeople(db) }))
  filler = createFiller(target, detector, keep)
  for (const [at, group] of groups.entries()) {
    const wrong = at % 5 === 0 ? sayMany(at / 5) : ''
    things.push(await fillGroup(target, filler.fill, group, wrong))
  }
  await fillAlone(
    target,
    filler.fill,
    keep,
    payloads.map(({ text }) => text),
  )
  await fillRest(target, filler.fill, keep, groups)
  await sendWrong(
    target,
    filler.fill,
    keep,
    groups.flatMap((_, at) => (at % 5 === 0 ? [sayMany(at / 5)] : [])),
  )
  const newcomers = await sendNewcomers(
    keep,
    payloads.map(({ text }) => text),
  )
  for (const route of newcomers) asked.add(route)
  for (const table of ['original', 'piece', 'draft', 'source'])
    target.db.raw.exec(`update ${table} set visibility = 'published'`)
}, 300_000)
afterAll(async () => {
  await browser.close()
  await target.stop()
})

describe(`${PAYLOADS.length} payloads in every field of words of every form`, () => {
  test('fill in every form: each route that takes one is here, and each field took them', async () => {
    const filled = [...filler.filled.fields.keys(), ...BY_HAND]
    const takes = ROUTES.filter(({ method }) => method === 'POST').map(({ path }) => `POST ${path}`)
    expect(takes.filter((route) => !filled.includes(route) && !Object.hasOwn(WITHOUT_WORDS, route))).toEqual([])
    expect(Object.keys(WITHOUT_WORDS).filter((route) => !takes.includes(route))).toEqual([])
    expect([...new Set(filler.filled.troubles)].slice(0, 6)).toEqual([])
    // The bar is 150, each in every field: `npm run corpus`.
    expect(PAYLOADS.length).toBeGreaterThanOrEqual(150)
    expect(payloads.length).toBeGreaterThanOrEqual(30)
  })

  test('leave nothing alive on the pages that come back: shown again, met by somebody else, refused', async () => {
    expect(await settle()).toEqual([])
  })

  test('leave nothing alive where they are shown: to their owner, to members, to who has not signed in', async () => {
    for (const each of things)
      for (const [path, as] of pagesOf(each)) keep(`GET ${path}, ${as}`, await target.send(path, as))
    for (const list of ['originals', 'pieces', 'drafts', 'sources', 'search?q=xss', 'search?q=script&kind=piece'])
      await walk(`/${list}`)
    const ids = things.map(({ piece }) => `piece=${piece}`)
    for (let at = 0; at < ids.length; at += 8)
      keep('GET /compare, of several', await target.send(`/compare?${ids.slice(at, at + 8).join('&')}`, 'owner'))
    await lookAtTheRest()
    const words = PAYLOADS.map(({ text }) => text)
    const pictures = await sendPicture(target, keep, words)
    expect(pictures.length).toBeGreaterThan(0)
    expect(pictures.filter((bytes) => bytes.includes('xss()') || bytes.includes('x-mark'))).toEqual([])
    expect(await settle()).toEqual([])
    expect(target.broken).toEqual([])
  }, 240_000)

  test('leave nothing alive in an archive, on the page that looks one over, and in a notebook that took it in', async () => {
    const { bytes } = await target.send('/export/mine.zip', 'owner')
    expect(await listFormulas(bytes)).toEqual([])
    for (const path of ['/export/notebook.zip', '/members/2/export.zip', `/pieces/${things[0]!.piece}/export.zip`]) {
      const answer = await target.send(path, 'keeper')
      expect([path, answer.type, await listFormulas(answer.bytes)]).toEqual([path, 'application/zip', []])
    }
    const other = await startTarget((db) => ({ ...makePeople(db) }))
    const bringIn = async () => {
      const form = new FormData()
      form.append('archive', new Blob([new Uint8Array(bytes)]), 'archive.zip')
      const answer = await other.send('/import', 'owner', form)
      keep('POST /import, looked over', answer)
      return /action="(\/import\/[0-9a-f]+)"/.exec(answer.text)?.[1] ?? ''
    }
    keep('POST /import/:token', await other.send(await bringIn(), 'owner', new URLSearchParams()))
    expect(other.db.raw.prepare('select count(*) from original').pluck().get()).toBeGreaterThan(things.length)
    for (const [table, column] of Object.entries({ original: 'name', source: 'title', piece: 'name', draft: 'title' }))
      other.db.raw.exec(`update ${table} set ${column} = substr(${column}, 2) || '"'`)
    const token = await bringIn()
    keep('GET /import/:token', await other.send(token, 'owner'))
    keep('POST /import/:token, not chosen', await other.send(token, 'owner', new URLSearchParams()))
    for (const path of ['/originals', '/originals/1', '/pieces/1', '/drafts/1', '/sources/1', '/features'])
      keep(`GET ${path}, brought in`, await other.send(path, 'owner'))
    for (const route of other.asked) asked.add(route)
    await other.stop()
    expect(await settle()).toEqual([])
  }, 240_000)

  test('are thrown away, and leave nothing alive in the bin', async () => {
    for (const { piece, sitting, photo, draft, source } of things.slice(0, 20)) {
      for (const path of [
        `/photos/${photo}`,
        `/sittings/${sitting}`,
        `/pieces/${piece}`,
        `/drafts/${draft}`,
        `/sources/${source}`,
      ])
        await target.send(`${path}/delete`, 'owner', new URLSearchParams())
      keep('GET what it was part of, with a way back', await target.send(`/pieces?undo=piece-${piece}`, 'owner'))
    }
    keep('GET /bin', await target.send('/bin', 'owner'))
    keep('GET /pieces/:id, its draft thrown away', await target.send(`/pieces/${things.at(-1)!.piece}`, 'owner'))
    expect(await settle()).toEqual([])
  })

  test('were looked for on every page that there is', () => {
    for (const route of target.asked) asked.add(route)
    const shown = ROUTES.filter(({ method }) => method === 'GET').map(({ path }) => `GET ${path}`)
    expect(shown.filter((route) => !asked.has(route))).toEqual([])
  })
})

/** What belongs to no one thing, or is drawn too slowly to be drawn of each. */
async function lookAtTheRest(): Promise<void> {
  const backup = await target.send('/keeper/backup', 'keeper', new URLSearchParams())
  expect(backup.status).toBe(303)
  const [name] = readdirSync(join(target.dataDir, 'backups'))
  for (const path of [
    ...['/members', '/keeper', '/keeper/check', `/keeper/restore/${name}`, `/keeper/delete/${name}`, '/demo/remove'],
    ...['/', '/welcome.svg', '/colophon', '/healthz', '/export', '/import', '/drafts/import', '/drafts/infer'],
    ...['/drafts/new/bench', '/features/new', '/sources/new', '/pieces/new', '/yarns/reckon', '/sign-in'],
    ...[`/yarns/reckon?${new URLSearchParams({ count: sayMany(0).slice(0, 110), fibre: sayMany(0) })}`],
    ...[`/photos/${things[0]!.photo}/original`],
  ])
    keep(`GET ${path}`, await target.send(path, 'keeper'))
  for (const { draft } of [things[0]!, things.at(-1)!])
    for (const side of ['face', 'reverse']) {
      const { type, bytes } = await target.send(`/drafts/${draft}/revisions/1/${side}.png`, 'owner')
      expect(type).toBe('image/png')
      if (bytes.includes('xss()') || bytes.includes('x-mark')) live.push(`${side}.png holds the words`)
    }
}

/** A list to its end, page by page. */
async function walk(first: string): Promise<void> {
  for (let path: string | undefined = first; path !== undefined;) {
    const answer: Answer = await target.send(path, 'owner')
    keep(`GET ${first}`, answer)
    path = /href="(\/[^"]*after&#x3D;[^"]*|\/[^"]*[?&;]after=[^"]*)"/
      .exec(answer.text)?.[1]
      ?.replaceAll('&amp;', '&')
      .replaceAll('&#x3D;', '=')
  }
}

describe('the same pages, opened in a browser', () => {
  test('run nothing: no dialog, no report of the content policy, no marker', async () => {
    const { page, seen, context } = await openWatched(browser, target.origin, 'owner')
    const anonymous = await openWatched(browser, target.origin, 'anonymous')
    const paths = pagesOf(things[0]!).length
    for (let at = 0; at < paths; at++)
      for (const which of isWhole ? [at * 7, at * 11 + 5] : [at * 7]) {
        const [path, as] = pagesOf(things[which % things.length]!)[at]!
        // What is handed over as a file opens in no page.
        if (/\.(json|csv|txt|xml)$|\/export\?format=|\/file\.html$/.test(path)) continue
        if (as === 'owner') await page.goto(target.origin + path)
        if (as === 'anonymous') await anonymous.page.goto(target.origin + path)
      }
    for (const path of ['/originals', '/pieces', '/features', '/account', '/search?q=xss', '/bin', '/nowhere'])
      await page.goto(target.origin + path)
    expect([await seen(), await anonymous.seen()]).toEqual([[], []])
    await context.close()
  }, 240_000)
})

/** Filled in by functions of their own: with a file, a token, or for nobody yet. */
const BY_HAND = [
  ...[
    'POST /originals/:id/photos',
    'POST /pieces/:id/photos',
    'POST /import',
    'POST /sign-in',
    'POST /drafts/infer',
    'POST /drafts/infer/keep',
    'POST /setup/:token',
    'POST /members/first',
    'POST /reset/:token',
    'POST /drafts/:id/bench/copy',
    'POST /drafts/:id/bench/revision',
  ],
]
