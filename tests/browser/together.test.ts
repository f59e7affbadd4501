import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { expectAccessible, expectNoSidewaysScroll, openWindow } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { startReached, type Reached } from '../support/reach.ts'

let browser: Browser
let server: Reached
beforeAll(async () => {
  server = await startReached({ demo: true })
  browser = await launchChromium()
})
afterAll(async () => {
  await browser.close()
  await server.stop()
})

test('two browsers editing one piece: the second sees both texts, brings them together, and nothing is lost', async () => {
  const [first, second] = [await openWindow(browser), await openWindow(browser, { width: 360, scheme: 'dark' })]
  for (const { page } of [first, second]) await page.goto(`${server.url}pieces/1/edit`)
  await first.page.getByLabel('For whom').fill('The reading room')
  await first.page.getByLabel('What went wrong').fill('Two picks left out.')
  await first.page.getByRole('button', { name: /^Save/ }).click()
  await first.page.waitForURL(/\/pieces\/1\?/)

  await second.page.getByLabel('What went wrong').fill('One tablet turned back.')
  await second.page.getByRole('button', { name: /^Save/ }).click()
  await second.page.getByRole('heading', { level: 1, name: 'Changed meanwhile' }).waitFor()
  await expectAccessible(second.page)
  await expectNoSidewaysScroll(second.page)
  expect(await second.page.locator('.theirs').innerText()).toBe('Two picks left out.')
  expect(await second.page.getByLabel('For whom').inputValue()).toBe('The reading room')
  const wrong = second.page.getByLabel('Went wrong')
  await wrong.fill(`Two picks left out. ${await wrong.inputValue()}`)
  await second.page.getByRole('button', { name: 'Save this' }).click()
  await second.page.waitForURL(/\/pieces\/1\?/)
  const text = await second.page.locator('main').innerText()
  expect(text).toContain('Two picks left out. One tablet turned back.')
  expect(text).toContain('The reading room')
  await first.context.close()
  await second.context.close()
})

test('thrown away and taken out again by the button beside the notice', async () => {
  const { page, context } = await openWindow(browser)
  await page.goto(`${server.url}pieces/6/delete`)
  await page.getByRole('button', { name: /^Delete/ }).click()
  await page.getByText('In the bin now, for 30 days.').waitFor()
  await page.getByRole('button', { name: 'Undo' }).click()
  await page.getByText('Taken out of the bin again.').waitFor()
  expect(page.url()).toContain('/pieces/6')
  await context.close()
})
