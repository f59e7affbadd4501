import { readFileSync } from 'node:fs'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { expectAccessible, expectNoSidewaysScroll, openWindow } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { startReached, type Reached } from '../support/reach.ts'
import { STEP_DOCUMENT, STEP_TYPED } from './sample.ts'

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

async function typeDraft(page: Page, turning: string, title = STEP_TYPED.title): Promise<void> {
  await page.goto(`${server.url}drafts/new`)
  await page.getByLabel('Title').fill(title)
  await page.getByLabel('Threading').fill(STEP_TYPED.threading)
  await page.getByLabel('Turning').fill(turning)
}

describe('/drafts/new with script', () => {
  test('draws while one types, names the pick that is wrong and leads the caret there, then saves', async () => {
    const { page, context, faults } = await openWindow(browser)
    await typeDraft(page, '6F x4\n1F 3B 1F', '</title><b>bold</b> "quoted"')
    const live = page.locator('.draft-live')
    await live.locator('svg').waitFor()
    expect(await live.locator('b').count()).toBe(0)
    expect(await live.locator('svg title').first().textContent()).toContain('</title><b>bold</b> "quoted"')
    await page.getByText('1 problem in the turning. Drawn are the first 4 picks.').waitFor()
    expect(await page.locator('#f-turning-problems').textContent()).toContain('Pick 5: 5 tablets found, 6 needed.')
    await page.getByRole('button', { name: 'Line 2, character 9' }).click()
    await page.keyboard.type('6B')
    expect(await page.getByLabel('Turning').inputValue()).toBe('6F x4\n1F 3B 1F6B')
    await page.getByLabel('Turning').fill(STEP_TYPED.turning)
    await page.getByText('6 tablets, 12 picks.').waitFor()
    await page.getByText('As wanted').first().waitFor()
    await page.getByRole('button', { name: 'Save draft' }).click()
    await page.getByRole('heading', { level: 1, name: '</title><b>bold</b> "quoted"' }).waitFor()
    expect(faults).toEqual([])
    await context.close()
  })

  test('a colour chosen writes its line and draws anew', async () => {
    const { page, context, faults } = await openWindow(browser, { width: 360 })
    await typeDraft(page, STEP_TYPED.turning)
    await page.getByLabel('Colour of m, madder').fill('#2f4a6b')
    expect(await page.getByRole('textbox', { name: 'Colours' }).inputValue()).toBe('m madder #2f4a6b\nw undyed #e9dfc8')
    await page.locator('.draft-live svg [fill="#2f4a6b"]').first().waitFor({ state: 'attached' })
    expect(faults).toEqual([])
    await context.close()
  })

  test('a large draft is drawn as dots at once and as a band when the typing pauses', async () => {
    const { page, context, faults } = await openWindow(browser)
    await page.goto(`${server.url}drafts/new`)
    await page.getByLabel('Threading').fill('1-200: S m m w w')
    await page.getByLabel('Turning').fill('200F x200\n100F 100B x200')
    await page.locator('.draft-live canvas').waitFor()
    await page.locator('.draft-live svg').waitFor()
    expect(await page.locator('.draft-live-summary').textContent()).toBe('200 tablets, 400 picks.')
    expect(faults).toEqual([])
    await context.close()
  })
})

test('/drafts/import with script reads a chosen file into the field', async () => {
  const { page, context, faults } = await openWindow(browser)
  await page.goto(`${server.url}drafts/import`)
  const buffer = Buffer.from(STEP_DOCUMENT)
  await page.getByLabel('Choose a file').setInputFiles({ name: 'step.json', mimeType: 'application/json', buffer })
  await page.getByText('step.json is in the field below; nothing is kept yet.').waitFor()
  await page.getByRole('button', { name: 'Look at it' }).click()
  await page.getByRole('button', { name: 'Keep this draft' }).click()
  await page.getByRole('link', { name: 'Export', exact: true }).first().click()
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('link', { name: 'Draft document' }).click(),
  ])
  expect(readFileSync(await download.path(), 'utf8')).toBe(STEP_DOCUMENT)
  expect(faults).toEqual([])
  await context.close()
})

test('/drafts/new without script draws by its button and saves', async () => {
  const { page, context } = await openWindow(browser, { script: false })
  await typeDraft(page, '6F\n5F')
  await page.getByRole('button', { name: 'Draw it' }).click()
  await page.getByRole('link', { name: 'Turning, line 2, character 3: Pick 2: 5 tablets found, 6 needed.' }).waitFor()
  await page.getByLabel('Turning').fill(STEP_TYPED.turning)
  await page.getByRole('button', { name: 'Draw it' }).click()
  await page.locator('.draft-live svg').waitFor()
  await page.getByRole('button', { name: 'Save draft' }).click()
  await page.getByRole('heading', { level: 1, name: STEP_TYPED.title }).waitFor()
  const faces = page.locator('.draft-band img')
  await expect
    .poll(() => faces.first().evaluate((image) => (image as unknown as { naturalWidth: number }).naturalWidth))
    .toBeGreaterThan(0)
  await context.close()
})

describe('the pages of a draft', () => {
  test.each([
    { width: 1280, scheme: 'light' as const },
    { width: 360, scheme: 'dark' as const },
  ])('are accessible and never scroll sideways at $width px, $scheme', { timeout: 120_000 }, async (reader) => {
    const { page, context, faults } = await openWindow(browser, reader)
    await typeDraft(page, STEP_TYPED.turning)
    await page.getByText('As wanted').first().waitFor()
    await expectAccessible(page)
    await page.getByRole('button', { name: 'Save draft' }).click()
    await page.getByRole('heading', { level: 1, name: STEP_TYPED.title }).waitFor()
    const here = page.url().replace(/\?.*/, '')
    for (const address of [
      here,
      `${here}/edit`,
      `${here}/details`,
      `${here}?tabletWidthMm=x`,
      `${server.url}drafts/import`,
    ]) {
      await page.goto(address)
      await expectAccessible(page)
      await expectNoSidewaysScroll(page)
    }
    expect(faults).toEqual([])
    await context.close()
  })
})
