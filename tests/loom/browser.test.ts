import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { openDb } from '../../server/db/open.ts'
import { insertDraft, OWN_FRAME } from '../../server/draft/queries.ts'
import { listLoomSteps } from '../../server/loom/queries.ts'
import { LADDER } from '../plan/facts.ts'
import { expectAccessible, expectNoSidewaysScroll } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { makePiece } from '../support/make-piece.ts'
import { type Running, startServer } from '../support/server.ts'
import { migratedDb } from '../support/start.ts'

const PICKS = LADDER.picks.length
let browser: Browser
let dataDir: string
let server: Running
let piece: number

beforeAll(async () => {
  dataDir = mkdtempSync(join(tmpdir(), 'fellmark-test-'))
  const db = migratedDb(join(dataDir, 'fellmark.db'))
  const own = { draft: LADDER, notes: '', originalId: undefined, convention: OWN_FRAME }
  const { revisionId } = insertDraft(db, own, '2026-11-24T10:00:00.000Z')
  piece = makePiece(db, { name: 'Ferry belt', draftRevisionId: revisionId })
  for (let more = 0; more < 9; more++) makePiece(db, { name: `Belt ${more}`, draftRevisionId: revisionId })
  db.close()
  server = await startServer({ dataDir })
  browser = await launchChromium()
}, 180_000)
afterAll(async () => {
  await browser.close()
  await server.stop()
  rmSync(dataDir, { recursive: true, force: true })
})

const phone = (more: Parameters<Browser['newContext']>[0] = {}): Promise<BrowserContext> =>
  browser.newContext({ viewport: { width: 360, height: 640 }, timezoneId: 'Europe/Berlin', ...more })
const loomOf = (id: number) => `${server.url}pieces/${id}/loom`

async function openLoom(context: BrowserContext, id: number): Promise<Page> {
  const page = await context.newPage()
  await page.goto(loomOf(id))
  return page
}

/** Picks woven, as the page has it. */
const placeOn = (page: Page): Promise<number> => page.locator('[data-steps] [data-from]').inputValue().then(Number)
const says = (page: Page, text: RegExp): Promise<void> =>
  page.locator('[data-says]').filter({ hasText: text }).waitFor()
/** The fold is closed, and what it says is read all the same. */
const stateOf = (page: Page) => page.locator('[data-state]').textContent()
const untilState = (page: Page, text: RegExp) => expect.poll(() => stateOf(page), { timeout: 20_000 }).toMatch(text)

/** Keys pressed half a second after each other by their own time, as fast as the page takes them. */
const pressAt = (page: Page, from: number, at: number): Promise<number> =>
  page.evaluate<number>(`(async () => {
    const place = () => Number(document.querySelector('[data-steps] [data-from]').value)
    // What another tab did comes by itself.
    for (let wait = 0; place() !== ${from} && wait < 400; wait++) await new Promise((go) => setTimeout(go, 5))
    const event = new KeyboardEvent('keydown', { key: 'PageDown', bubbles: true, cancelable: true })
    Object.defineProperty(event, 'timeStamp', { value: ${at} })
    document.body.dispatchEvent(event)
    return place()
  })()`)

const comeOnline = (page: Page) => page.evaluate("void dispatchEvent(new Event('online'))")
const settings = (page: Page, kept: object) =>
  page.evaluate(`localStorage.setItem('fellmark-loom:/:settings', ${JSON.stringify(JSON.stringify(kept))})`)

/** A small generator with a seed: the same run every time. Source: the linear congruential one of Numerical Recipes. */
function newDice(seed: number): () => number {
  let state = seed
  return () => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) / 2 ** 32
}

describe('500 steps in two tabs, with the network cut and the server killed', () => {
  test('are each kept once, in order', async () => {
    const context = await phone()
    const tabs = [await openLoom(context, piece), await openLoom(context, piece)]
    for (const tab of tabs) await untilState(tab, /opens without network now/)
    const dice = newDice(20261128)
    let isOffline = false
    for (let step = 1; step <= 500; step++) {
      if (dice() < 0.04) await context.setOffline((isOffline = !isOffline))
      if (step === 130 || step === 330) await server.end('SIGKILL')
      if (step === 190 || step === 370) server = await startServer({ dataDir, env: { PORT: new URL(server.url).port } })
      const tab = tabs[dice() < 0.5 ? 0 : 1]!
      if (step % 50 === 0) await tab.reload()
      expect(await pressAt(tab, step - 1, 1_000_000 + step * 500), `step ${step}`).toBe(step)
    }
    await context.setOffline(false)
    for (const tab of tabs) await comeOnline(tab)
    for (const tab of tabs) await untilState(tab, /Every step is in the notebook/)
    const waiting = "Object.keys(localStorage).filter((name) => name.includes(':step:'))"
    expect(await tabs[0]!.evaluate<string[]>(waiting)).toEqual([])
    await context.close()
    await server.end('SIGTERM')
    const db = openDb(join(dataDir, 'fellmark.db'))
    const steps = listLoomSteps(db, piece)
    db.close()
    server = await startServer({ dataDir, env: { PORT: new URL(server.url).port } })
    expect(steps.map(({ place }) => place)).toEqual(Array.from({ length: 500 }, (_, at) => at + 1))
    expect(new Set(steps.map(({ uid }) => uid)).size).toBe(500)
    expect(new Set(steps.map(({ device }) => device)).size).toBe(1)
  }, 240_000)
})

describe('the loom page', () => {
  let context: BrowserContext
  let faults: string[]
  beforeAll(async () => {
    context = await phone()
    context.on('weberror', (error) => faults.push(error.error().message))
    context.on('console', (message) => {
      if (message.type() === 'error') faults.push(message.text())
    })
    faults = []
  })
  afterAll(() => context.close())

  test('takes a held key and a bouncing pedal for one press, and learns a key', async () => {
    const page = await openLoom(context, piece + 1)
    await page.keyboard.down('PageDown')
    for (let held = 0; held < 4; held++) await page.keyboard.down('PageDown')
    await page.keyboard.up('PageDown')
    expect(await placeOn(page)).toBe(1)
    await page.waitForTimeout(300)
    await page.evaluate(`for (let bounce = 0; bounce < 3; bounce++)
      document.body.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowRight', bubbles: true }))`)
    expect(await placeOn(page)).toBe(2)
    await page.waitForTimeout(300)
    await page.locator('summary').click()
    await page.getByRole('button', { name: 'Teach a key for back' }).click()
    await page.keyboard.press('j')
    await page.locator('summary').click()
    await page.keyboard.press('j')
    expect(await placeOn(page)).toBe(1)
    await page.reload()
    await page.keyboard.press('j')
    expect(await placeOn(page)).toBe(0)
    await page.close()
  })

  test('by its halves, and by one tap each: a slip, an unweaving, a pause', async () => {
    const page = await openLoom(context, piece + 2)
    for (const [name, place] of [
      ['Next', 1],
      ['Next', 2],
      ['Back', 1],
      ['Slip', 1],
      ['Unweave', 0],
      ['Pause', 0],
    ] as const) {
      await page.getByRole('button', { name, exact: true }).click()
      expect(await placeOn(page), name).toBe(place)
      await page.waitForTimeout(260)
    }
    await says(page, /A pause/)
    await untilState(page, /Every step is in the notebook/)
    await page.reload()
    await page.locator('summary').click()
    expect(await page.locator('.loom-history li').allTextContents()).toEqual(
      [/Pause, 0/, /Unwoven, 0/, /Slip, 1/, /Back, 1/, /Woven, 2/, /Woven, 1/].map(
        (text) => expect.stringMatching(text) as string,
      ),
    )
    await page.close()
  })

  test('fits 360 by 640 without scrolling, with nothing to press that is under 64 px; axe finds nothing, light or dark', async () => {
    const page = await openLoom(context, piece + 3)
    for (const kept of [{}, { size: 96, left: true }, { contrast: true }]) {
      await settings(page, kept)
      await page.reload()
      await expectNoSidewaysScroll(page)
      const found = await page.evaluate<object>(`(() => {
        const pressed = [...document.querySelectorAll('button, a, summary')].filter((each) => each.checkVisibility())
        const shown = pressed.map((each) => each.getBoundingClientRect())
        const stage = document.querySelector('.loom-stage')
        return {
          counts: shown.length,
          small: shown.filter(({ width, height }) => width < 64 || height < 64).length,
          below: shown.filter(({ bottom }) => bottom > innerHeight + 0.5).length,
          scrolls: document.documentElement.scrollHeight > innerHeight || stage.scrollHeight > stage.clientHeight + 1,
        }
      })()`)
      expect(found).toEqual({ counts: 7, small: 0, below: 0, scrolls: false })
    }
    // In high contrast, then in the usual colours, then what is folded away.
    for (const colorScheme of ['dark', 'light'] as const) {
      await page.emulateMedia({ colorScheme })
      await expectAccessible(page)
    }
    await settings(page, {})
    await page.reload()
    await expectAccessible(page)
    await page.locator('summary').click()
    await expectAccessible(page)
    await page.emulateMedia({ colorScheme: 'dark' })
    await expectAccessible(page)
    await page.close()
  }, 90_000)

  test('opens again without network, at the right pick, and sends what waits once there is one', async () => {
    const page = await openLoom(context, piece + 4)
    await untilState(page, /opens without network now/)
    await context.setOffline(true)
    await page.keyboard.press('PageDown')
    await page.reload()
    expect(await placeOn(page)).toBe(1)
    await page.waitForTimeout(260)
    await page.keyboard.press('PageDown')
    await untilState(page, /2 steps wait on this device/)
    // Nothing else of the notebook lies in this browser.
    const kept = await page.evaluate<string[]>(`(async () => {
      const all = await Promise.all((await caches.keys()).map(async (name) => (await caches.open(name)).keys()))
      return all.flat().map(({ url }) => new URL(url).pathname)
    })()`)
    expect(kept.filter((path) => !/^\/assets\/|^\/pieces\/\d+\/loom$/.test(path))).toEqual([])
    await context.setOffline(false)
    await untilState(page, /Every step is in the notebook/)
    faults = faults.filter((fault) => !fault.includes('ERR_INTERNET_DISCONNECTED'))
    await page.close()
  })

  test('says where another device is, and follows it once nobody works here', async () => {
    const page = await openLoom(context, piece + 5)
    await page.keyboard.press('PageDown')
    await untilState(page, /Every step is in the notebook/)
    const other = await phone()
    const there = await openLoom(other, piece + 5)
    expect(await placeOn(there)).toBe(1)
    await there.keyboard.press('PageDown')
    await untilState(there, /Every step is in the notebook/)
    await comeOnline(page)
    await says(page, /Another device is at 2 picks/)
    expect(await placeOn(page)).toBe(1)
    // It goes on here: the later step wins there too.
    await page.waitForTimeout(260)
    await page.keyboard.press('PageUp')
    await untilState(page, /Every step is in the notebook/)
    await there.reload()
    expect(await placeOn(there)).toBe(0)
    await other.close()
    await page.close()
  })

  test('says so when the browser has no room left, and sends from the page itself', async () => {
    const page = await context.newPage()
    const content = "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError') }"
    await page.addInitScript({ content })
    await page.goto(loomOf(piece + 6))
    await context.setOffline(true)
    await page.keyboard.press('PageDown')
    await says(page, /no room left/)
    expect(await placeOn(page)).toBe(1)
    await context.setOffline(false)
    await untilState(page, /Every step is in the notebook/)
    faults = faults.filter((fault) => !fault.includes('ERR_INTERNET_DISCONNECTED'))
    await page.close()
  })

  test('as a file works from the disk, and its steps come back', async () => {
    const page = await openLoom(context, piece + 7)
    await page.locator('summary').click()
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'Take it along as a file' }).click(),
    ])
    const path = join(dataDir, 'loom.html')
    await download.saveAs(path)
    const away = await phone({ offline: true })
    const file = await away.newPage()
    await file.goto(`file://${path}`)
    await file.keyboard.press('PageDown')
    await file.waitForTimeout(260)
    await file.keyboard.press('PageDown')
    await file.reload()
    expect(await placeOn(file)).toBe(2)
    await file.locator('summary').click()
    const [steps] = await Promise.all([
      file.waitForEvent('download'),
      file.getByRole('button', { name: 'Steps as a file' }).click(),
    ])
    const taken = join(dataDir, 'steps.json')
    await steps.saveAs(taken)
    await away.close()
    await page.getByLabel('Or its text').fill(readFileSync(taken, 'utf8'))
    await Promise.all([page.waitForEvent('load'), page.getByRole('button', { name: 'Bring them in' }).click()])
    expect(await placeOn(page)).toBe(2)
    await page.close()
  })

  test('works without script', async () => {
    const plain = await phone({ javaScriptEnabled: false })
    const page = await openLoom(plain, piece + 8)
    await page.getByRole('button', { name: 'Next', exact: true }).click()
    await page.getByRole('button', { name: 'Next', exact: true }).click()
    expect(await placeOn(page)).toBe(2)
    await page.locator('summary').click()
    await page.getByLabel('The next pick is in repeat').fill('3')
    await page.getByLabel('and is pick').fill('1')
    await page.getByRole('button', { name: 'Put it there' }).click()
    expect(await placeOn(page)).toBe(2 * PICKS)
    await plain.close()
  })

  test('has had no error and no refusal by its policy', () => {
    expect(faults).toEqual([])
  })
})
