import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { expectAccessible, expectNoSidewaysScroll, openWindow } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { startReached, type Reached } from '../support/reach.ts'

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

test('/drafts/infer works out the example in the browser, and keeps the draft', async () => {
  const { page, context, faults } = await openWindow(browser, { width: 360 })
  await page.goto(`${server.url}drafts/infer?example=yes`)
  const [sent] = await Promise.all([
    page.waitForRequest((one) => one.method() === 'POST'),
    page.getByRole('button', { name: 'Work it out' }).click(),
  ])
  // The browser has worked it out: what it found goes along.
  expect(sent.postData()).toContain('answer=')
  await page.getByRole('heading', { name: 'What was worked out' }).waitFor()
  await page.getByText('1 cell of 152 legible ones').first().waitFor()
  await expectAccessible(page)
  await expectNoSidewaysScroll(page)
  await page.getByRole('button', { name: 'Keep as a draft' }).click()
  await page.getByRole('heading', { level: 1, name: 'Chevron, worked out' }).waitFor()
  expect(faults).toEqual([])
  await context.close()
})

test('/drafts/infer can be stopped while it works, and nothing typed is lost', async () => {
  const { page, context, faults } = await openWindow(browser)
  await page.goto(`${server.url}drafts/infer`)
  const line = Array.from({ length: 150 }, (_, at) => (at % 3 ? 'm' : 'w')).join(' ')
  const face = Array.from({ length: 600 }, (_, pick) => (pick % 7 ? line : line.replaceAll('w', '.'))).join('\n')
  await page.getByLabel('What was seen').fill(face)
  await page.getByLabel('Twist-neutral').check()
  await page.getByRole('button', { name: 'Work it out' }).click()
  await page.getByRole('button', { name: 'Stop' }).click()
  await page.getByText('Stopped. Nothing was lost').waitFor()
  expect(await page.getByLabel('What was seen').inputValue()).toBe(face)
  expect(faults).toEqual([])
  await context.close()
})
