import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { expectAccessible, expectNoSidewaysScroll, openWindow, signInAgain } from '../support/browser.ts'
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

test('a keeper backs up, checks and restores by the buttons alone', async () => {
  const { page, context, faults } = await openWindow(browser)
  await page.goto(`${server.url}keeper`)
  await page.getByText('There is no backup yet.').waitFor()
  await page.getByRole('button', { name: 'Back up now' }).click()
  await page.getByRole('heading', { name: 'The notebook is safe today' }).waitFor()
  await page.getByRole('link', { name: 'Check now' }).click()
  await page.getByRole('heading', { name: 'All is well' }).waitFor()
  await page.getByRole('link', { name: 'Back to keeping the notebook' }).click()
  await page.getByRole('link', { name: /^Restore the backup made today/ }).click()
  await page.getByRole('button', { name: 'Restore this backup' }).click()
  await signInAgain(page, server.url)
  await page.getByText('The backup is restored.').waitFor()
  await page.getByRole('cell', { name: 'before a restore' }).waitFor()
  expect(faults).toEqual([])
  await context.close()
})

test.each([
  [1280, 'light'],
  [360, 'dark'],
] as const)('with backups, at %d px, %s, its pages have no fault that axe can see', async (width, scheme) => {
  const { page, context } = await openWindow(browser, { width, scheme })
  await page.goto(`${server.url}keeper`)
  await page.getByRole('button', { name: 'Back up now' }).click()
  await page.getByRole('heading', { name: 'The notebook is safe today' }).waitFor()
  await expectAccessible(page)
  await expectNoSidewaysScroll(page)
  await page
    .getByRole('link', { name: /^Restore the backup made today/ })
    .first()
    .click()
  await page.getByRole('button', { name: 'Restore this backup' }).waitFor()
  await expectAccessible(page)
  await expectNoSidewaysScroll(page)
  await page.goto(page.url().replace('/restore/', '/delete/'))
  await page.getByRole('button', { name: 'Delete this backup' }).waitFor()
  await expectAccessible(page)
  await expectNoSidewaysScroll(page)
  await context.close()
})
