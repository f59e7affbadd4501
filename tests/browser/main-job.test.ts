import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { expectAccessible, expectNoSidewaysScroll, openWindow, type Reader } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import type { Mode } from '../support/mode.ts'
import { startReached, type Reached } from '../support/reach.ts'

let browser: Browser
beforeAll(async () => {
  browser = await launchChromium()
})
afterAll(() => browser.close())

const THREADING = '1: S m m m m border\n2-5: S m m w w\n6-9: Z m m w w\n10: Z m m m m border'
const TURNING = '10F x4\n1F 8B 1F x4'

/** The main job by hand, as a maker does it on an empty notebook: original, claims, draft, piece, readings, sitting, comparison. */
async function doMainJob(page: Page, server: Reached, look: (page: Page) => Promise<void>): Promise<void> {
  const save = (name: RegExp) => page.locator('main').getByRole('button', { name }).first().click()
  const heading = (name: string | RegExp) => page.getByRole('heading', { level: 1, name }).waitFor()

  await page.goto(server.url)
  await look(page)
  await page.getByRole('link', { name: 'Record an original' }).first().click()
  await page.getByLabel('Name', { exact: false }).first().fill('Heron band')
  await page.getByLabel('Holder').fill('A drawer of our own')
  await page.getByLabel('Date').fill('-0449~')
  await look(page)
  await save(/Save/)
  await heading('Heron band')
  await page.getByText('about 450 BCE').first().waitFor()
  await look(page)

  const original = page.url().replace(/\?.*/, '')
  await page.goto(`${original}/claims/new?feature=width`)
  await page.getByLabel('Value', { exact: true }).fill('13.0')
  await page.getByLabel('Standard uncertainty u').fill('0.1')
  await page.getByLabel('Or a new source, by its title').fill('Notes on the heron band')
  await page.getByLabel('Where in it').fill('p. 4')
  await look(page)
  await save(/Save/)
  await page.getByText('13.0 mm').first().waitFor()
  await page.goto(`${original}/claims/new?feature=picksPerCm`)
  await page.getByLabel('Value', { exact: true }).fill('12')
  await page.getByLabel('Standard uncertainty u').fill('0,2')
  await save(/Save/)
  await page.goto(`${original}/claims/new?feature=warpFibre`)
  await page.getByLabel('No value, and why not').check()
  await page.getByLabel('Why there is none').selectOption('notAnalysed')
  await save(/Save/)
  await heading('Heron band')
  await page.goto(`${original}/claims/new?feature=tablets`)
  await page.getByLabel('Value', { exact: true }).fill('10')
  await save(/Save/)

  await page.goto(`${server.url}drafts/new`)
  await page.getByLabel('Title').fill('Heron steps')
  await page.getByRole('textbox', { name: 'Colours' }).fill('m madder #9c3b2e\nw undyed #e9dfc8')
  await page.getByLabel('Weft').fill('m')
  await page.getByLabel('Threading').fill(THREADING)
  await page.getByLabel('Turning').fill(TURNING)
  await page.locator('main').getByRole('button', { name: 'Draw it' }).click()
  await page.locator('main svg:visible').first().waitFor()
  await look(page)
  await save(/Save draft/)
  await heading('Heron steps')
  await look(page)

  await page.getByRole('link', { name: 'Weave a piece from this' }).click()
  await page.getByLabel('Name').first().fill('First heron')
  await page.getByLabel('Maker').fill('Odile')
  await page.getByLabel('Original that it follows').selectOption({ index: 1 })
  await page.getByLabel('Role').first().fill('pattern warp')
  await page.getByLabel('Yarn', { exact: true }).first().fill('two-ply wool')
  await page.getByLabel('Count').first().fill('20')
  await page.getByLabel('in', { exact: true }).first().selectOption('Nm')
  await page.getByLabel('Plies').first().fill('2')
  await look(page)
  await page.locator('main').getByRole('button', { name: /^Save/ }).click()
  await heading('First heron')

  const piece = page.url().replace(/\?.*/, '')
  await page.goto(`${piece}/claims/new?feature=width`)
  await page.getByLabel('Readings as they came').check()
  await page.getByLabel('Readings', { exact: true }).fill('19,8 20.1\n20.0 20.2 19.9')
  await look(page)
  await save(/Save/)
  await page.goto(`${piece}/claims/new?feature=picksPerCm`)
  await page.getByLabel('Readings as they came').check()
  await page.getByLabel('Readings', { exact: true }).fill('72 in 9\n70 in 9\n73 in 9')
  await save(/Save/)

  await page.goto(`${piece}/sittings/new`)
  await page.getByLabel('What the time went into').selectOption({ label: 'Weave' })
  await page.getByLabel('Day', { exact: false }).first().fill('2026-03-14')
  await page.getByLabel('Start').fill('19:00')
  await page.getByLabel('End', { exact: true }).fill('20:40')
  await page.getByLabel('Breaks, minutes').fill('10')
  await page.getByLabel('Repeats').fill('9')
  await look(page)
  await save(/^(Save|Note)/)
  await page.goto(piece)
  await look(page)

  await page.goto(`${piece}/compare`)
  await heading(/First heron beside Heron band/)
  await look(page)
  const text = (await page.locator('main').innerText()).replace(/\s+/g, ' ')
  expect(text).toContain('1.54 times the original')
  expect(text).toContain('larger than the original')
  expect(text).toContain('not analysed')
  // 72 picks in 90 minutes; ten tablets each pick; common practice, no source, for the rest.
  expect(text).toContain('A repeat takes 10.0 min')
  expect(text).toContain('Picks in an hour 48.0')
  expect(text).toContain('Quarter turns in an hour 480')
  expect(await page.locator('svg.band').count()).toBe(2)
}

describe('the main job on an empty notebook', () => {
  const readers: readonly (readonly [string, Reader, Mode])[] = [
    ['at 1280 px', { width: 1280 }, 'loopback'],
    ['at 360 px in the dark, by https below a path', { width: 360, scheme: 'dark' }, 'sub-path'],
  ]
  test.each(readers)(
    '%s, every page accessible and never wider than the window',
    async (_name, reader, mode) => {
      const server = await startReached({ mode })
      const { page, context, faults } = await openWindow(browser, reader)
      await doMainJob(page, server, async () => {
        await expectAccessible(page)
        await expectNoSidewaysScroll(page)
      })
      expect(faults).toEqual([])
      await context.close()
      await server.stop()
    },
    90_000,
  )

  test('without script', async () => {
    const server = await startReached()
    const { page, context } = await openWindow(browser, { width: 360, script: false })
    await doMainJob(page, server, () => Promise.resolve())
    await context.close()
    await server.stop()
  }, 60_000)
})
