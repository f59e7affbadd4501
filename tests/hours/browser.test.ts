import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { expectNoSidewaysScroll, openWindow } from '../support/browser.ts'
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

/** Forty picks a minute apart, two hours ago, as the loom page of a phone sends them. */
const STEPS = `(async () => {
  const uid = () => [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, '0')).join('')
  const from = Date.now() - 7200_000
  const steps = Array.from({ length: 40 }, (_, at) => ({
    uid: uid(), seq: at + 1, kind: 'woven', place: at + 1, deviceAt: new Date(from + at * 60_000).toISOString(),
    zone: 'Europe/Berlin', revision: null, after: null, note: '',
  }))
  const answer = await fetch(new URL('loom/steps', location.href), {
    method: 'POST', headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({ device: uid(), sentAt: new Date().toISOString(), steps }),
  })
  return answer.status
})()`

/** Several pages one after the other; other tests run beside. */
const LONG = 90_000

test('steps propose a sitting, which is approved with an earlier beginning and counts', { timeout: LONG }, async () => {
  const { page, context, faults } = await openWindow(browser, { width: 360 })
  await page.goto(`${server.url}pieces/1/hours`)
  expect(await page.evaluate<number>(STEPS)).toBe(200)
  await page.reload()
  await page.getByText('39 min worked, 40 picks.').waitFor()
  await expectNoSidewaysScroll(page)
  const start = page.getByLabel('Began at')
  const [hour = 0, minute = 0] = (await start.inputValue()).split(':').map(Number)
  // Not over midnight: the form would ask, and rightly.
  const earlier = minute >= 5 ? `${String(hour).padStart(2, '0')}:${String(minute - 5).padStart(2, '0')}` : undefined
  if (earlier) {
    await start.fill(earlier)
    await page.getByRole('button', { name: /^Approve Weave/ }).click()
    await page.getByText(/^The steps said/).waitFor()
    await page.getByRole('button', { name: 'Save sitting' }).click()
    await page.getByText(/The steps said/).waitFor()
  } else {
    await page.getByRole('button', { name: /^Approve Weave/ }).click()
  }
  await page.getByText('Every sitting that the steps tell is approved or left out.').waitFor()
  expect(await page.locator('table.sittings tbody tr').first().textContent()).toContain('from the steps')
  expect(faults).toEqual([])
  await context.close()
})

test('the clock is started, paused, stopped and thrown away without script', { timeout: LONG }, async () => {
  const { page, context } = await openWindow(browser, { script: false })
  await page.goto(`${server.url}pieces/1/hours`)
  await page.getByLabel('Time it by the clock').selectOption('finish')
  await page.getByRole('button', { name: 'Start' }).click()
  await page.getByText('Running: Finish at').waitFor()
  await page.goto(server.url)
  await page.getByRole('button', { name: 'Pause' }).click()
  await page.getByText('Paused: Finish at').waitFor()
  await page.getByRole('button', { name: 'Stop' }).click()
  await page.getByText(/^The clock said/).waitFor()
  await page.goto(server.url)
  await page.getByText('Throw it away').first().click()
  await page.getByRole('button', { name: 'Throw it away' }).click()
  await page.getByText('Timed:').waitFor({ state: 'detached' })
  await context.close()
})
