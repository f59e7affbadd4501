import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { openWindow } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { startReached, type Reached } from '../support/reach.ts'
import { beginAt, expectKept, kept } from './bench-window.ts'

let browser: Browser
let server: Reached

beforeAll(async () => {
  server = await startReached()
  browser = await launchChromium()
})
afterAll(async () => {
  await browser.close()
  await server.stop()
})

const cut = new WeakSet<BrowserContext>()
/** The notebook takes no working copy, as when the line is down. */
const cutOff = (context: BrowserContext) => {
  cut.add(context)
  return context.route('**/bench/copy', (route) => (cut.has(context) ? route.abort() : route.continue()))
}
// Taking the route away would let through what waits in it, and so would closing a window in which something waits.
const joinUp = (context: BrowserContext) => cut.delete(context)
/** What this browser holds of all benches: the turns of copies, and those held before a page was gone as JSON. */
const held = (page: Page) =>
  page.evaluate<string[]>(`new Promise((resolve) => {
    const asked = indexedDB.open('fellmark bench')
    asked.onsuccess = () => {
      const copies = asked.result.transaction('copies').objectStore('copies').getAll()
      copies.onsuccess = () => {
        asked.result.close()
        const small = Object.keys(localStorage).filter((key) => / copy /.test(key)).map((key) => localStorage[key])
        resolve([...copies.result.map(({ bench }) => bench.turning.turns.join()), ...small])
      }
    }
  })`)

/** Turns the first tablet of a pick over: Home is the first pick, End the last. */
async function turnOver(page: Page, key: 'Home' | 'End'): Promise<void> {
  await page.locator('[role="grid"]').focus()
  await page.keyboard.press(key)
  await page.keyboard.press('Enter')
}

/** Opens the bench; what is offered is found a moment later. */
async function open(page: Page, address: string): Promise<void> {
  await page.goto(address)
  await page.locator('[role="grid"]').waitFor()
}
const offers = (page: Page) => page.locator('[data-bench-notices] .notice')
const inBrowser = (page: Page) => page.getByText('It is kept in this browser until').waitFor()

/** Two windows that could not hand over what was done in them: in the first pick, and later in the last one. */
async function leaveTwo(context: BrowserContext, page: Page, address: string): Promise<void> {
  const other = await context.newPage()
  await open(other, address)
  await cutOff(context)
  await turnOver(page, 'Home')
  await inBrowser(page)
  await turnOver(other, 'End')
  await inBrowser(other)
  await page.goto(server.url)
  await other.goto(server.url)
  await other.close()
}

describe('/drafts/:id/bench keeps', () => {
  test('what is done within 2 s, however quickly one edit follows the other', async () => {
    const { page, context } = await openWindow(browser)
    await beginAt(server.url, page, 4, 6)
    const sent: number[] = []
    page.on('request', (request) => {
      if (request.method() === 'POST' && request.url().endsWith('/bench/copy')) sent.push(Date.now())
    })
    await page.locator('[role="grid"]').focus()
    const began = Date.now()
    for (let edit = 0; edit < 15; edit++) {
      await page.keyboard.press('Enter')
      await page.waitForTimeout(300)
    }
    expect(sent.length).toBeGreaterThan(1)
    expect(sent[0]! - began).toBeLessThan(2000)
    await expectKept(page, ['1B 3F', '4F', '4F', '4F', '4F', '4F'])
    await context.close()
  })

  test('in the browser what is done while the other window’s draft waits for an answer', async () => {
    const { page, context } = await openWindow(browser)
    const address = await beginAt(server.url, page, 4, 3)
    const other = await context.newPage()
    await open(other, address)
    await turnOver(other, 'Home')
    await expectKept(page, ['1B 3F', '4F', '4F'])
    await turnOver(page, 'End')
    await page.getByText('Another window of yours has gone on').waitFor()
    await page.keyboard.press('ArrowLeft')
    await page.keyboard.press('Enter')
    await expect.poll(() => held(page), { timeout: 4000 }).toEqual(['1,1,1,1,-1,1,1,1,-1,1,1,1'])
    await context.close()
  })
})

// Two windows and four visits: on a machine with other work that is long.
describe('/drafts/:id/bench with two copies that the notebook never got', { timeout: 60_000 }, () => {
  test('offers both, keeps both while it goes on, and takes up the one that the button stands beside', async () => {
    const { page, context, faults } = await openWindow(browser)
    const address = await beginAt(server.url, page, 4, 3)
    await leaveTwo(context, page, address)
    joinUp(context)
    await open(page, address)
    await offers(page).nth(1).waitFor()
    expect(await offers(page).count()).toBe(2)
    // Who goes on without an answer is asked again: both stay although another was kept meanwhile.
    await page.locator('[role="grid"]').focus()
    await page.keyboard.press('Control+a')
    await page.keyboard.press('Enter')
    await expectKept(page, ['4B', '4B', '4B'])
    await page.reload()
    await offers(page).nth(1).waitFor()
    await offers(page).nth(1).getByRole('button', { name: 'Take it up' }).click()
    await expectKept(page, ['4F', '4F', '1B 3F'])
    await page.getByText('Working copy kept at').waitFor()
    await page.reload()
    await offers(page).first().waitFor()
    expect(await offers(page).count()).toBe(1)
    await offers(page).first().getByRole('button', { name: 'Take it up' }).click()
    await expectKept(page, ['1B 3F', '4F', '4F'])
    await page.getByText('Working copy kept at').waitFor()
    await page.reload()
    await page.locator('[role="grid"]').waitFor()
    await page.waitForTimeout(600)
    expect(await offers(page).count()).toBe(0)
    expect(faults.filter((fault) => !fault.includes('ERR_FAILED'))).toEqual([])
    await context.close()
  })

  test('throws away the one that the button stands beside, and no other', async () => {
    const { page, context } = await openWindow(browser)
    const address = await beginAt(server.url, page, 4, 3)
    await leaveTwo(context, page, address)
    joinUp(context)
    await open(page, address)
    await offers(page).nth(1).waitFor()
    await offers(page).nth(0).getByRole('button', { name: 'Throw it away' }).click()
    await page.reload()
    await offers(page).first().waitFor()
    expect(await offers(page).count()).toBe(1)
    await page.getByRole('button', { name: 'Take it up' }).click()
    await expectKept(page, ['4F', '4F', '1B 3F'])
    await context.close()
  })

  test('offers nothing of a window that is still open, and a copy taken up stays until the notebook has it', async () => {
    const { page, context } = await openWindow(browser)
    const address = await beginAt(server.url, page, 4, 3)
    await cutOff(context)
    await turnOver(page, 'Home')
    await inBrowser(page)
    const other = await context.newPage()
    await open(other, address)
    await other.waitForTimeout(600)
    expect(await offers(other).count()).toBe(0)
    await page.goto(server.url)
    await other.reload()
    await other.getByRole('button', { name: 'Take it up' }).click()
    await inBrowser(other)
    // That of the first window, and that of this one, which the notebook has not taken yet.
    expect(await held(other)).toHaveLength(2)
    expect((await kept(other)).document.picks).toEqual(['4F', '4F', '4F'])
    joinUp(context)
    await other.evaluate("dispatchEvent(new Event('online'))")
    await expectKept(other, ['1B 3F', '4F', '4F'])
    await expect.poll(() => held(other)).toEqual([])
    await context.close()
  })
})

describe('/drafts/:id/bench with words that were typed and not taken', () => {
  const picksBox = (page: Page) => page.getByLabel('Its picks as text')
  const tabletsBox = (page: Page) => page.getByLabel('The marked tablets as text')

  test('puts them back into their boxes when it is opened again, with what was marked, and says so', async () => {
    const { page, context, faults } = await openWindow(browser)
    const address = await beginAt(server.url, page, 4, 6)
    await page.getByLabel('Picks', { exact: true }).fill('2-3')
    await page.getByRole('button', { name: 'Mark these' }).click()
    await expect.poll(() => picksBox(page).inputValue()).toBe('4F\n4F')
    await picksBox(page).fill('1B 3F\nhalf a li')
    await tabletsBox(page).fill('S m m')
    await page.getByLabel('What changed').fill('A half line,\nnot a whole one')
    await page.goto(server.url)
    await open(page, address)
    // Each box by itself, for the page puts them back one after the other.
    await expect.poll(() => picksBox(page).inputValue(), { timeout: 10_000 }).toBe('1B 3F\nhalf a li')
    await expect.poll(() => tabletsBox(page).inputValue(), { timeout: 10_000 }).toBe('S m m')
    await page.getByText('Put back into the box: lines typed').first().waitFor()
    await page.getByText('Put back into the box: words typed').waitFor()
    expect(await page.getByLabel('What changed').inputValue()).toBe('A half line,\nnot a whole one')
    await picksBox(page).fill('1B 3F')
    await page.getByRole('button', { name: 'Take these lines' }).first().click()
    await expectKept(page, ['4F', '1B 3F', '4F', '4F', '4F'])
    await page.getByRole('button', { name: 'Put back what is marked' }).last().click()
    await page.getByRole('button', { name: 'Keep as a revision' }).click()
    await page.getByText('A half line, not a whole one').first().waitFor()
    await page.goto(address)
    await page.locator('[role="grid"]').waitFor()
    await page.waitForTimeout(600)
    expect([await picksBox(page).inputValue(), await tabletsBox(page).inputValue()]).toEqual(['4F', 'S m m w w'])
    expect(await page.getByLabel('What changed').inputValue()).toBe('')
    expect(await page.getByText('Put back into the box').count()).toBe(0)
    expect(faults).toEqual([])
    await context.close()
  })

  test('has them too after a browser that died, and those of two windows', async () => {
    const { page, context } = await openWindow(browser)
    const address = await beginAt(server.url, page, 4, 3)
    const other = await context.newPage()
    await open(other, address)
    await picksBox(page).fill('typed first')
    await page.waitForTimeout(700)
    await picksBox(other).fill('typed last')
    await other.waitForTimeout(700)
    // Closed without a word to their scripts.
    const third = await context.newPage()
    await page.close()
    await other.close()
    await open(third, address)
    await expect.poll(() => picksBox(third).inputValue()).toBe('typed last')
    await third.getByText('typed first').waitFor()
    await third.getByRole('button', { name: 'Put them into the box' }).click()
    expect(await picksBox(third).inputValue()).toBe('typed last')
    await third.getByRole('button', { name: 'Put back what is marked' }).first().click()
    await third.getByRole('button', { name: 'Put them into the box' }).click()
    expect(await picksBox(third).inputValue()).toBe('typed first')
    await third.reload()
    await expect.poll(() => picksBox(third).inputValue()).toBe('typed first')
    expect(await third.getByText('typed last').count()).toBe(0)
    await context.close()
  })
})
