import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { openWindow } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { listPdfText } from '../support/pdf.ts'
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

/** Every number, sentence and row of the sheet, as a reader finds it. */
const SHEET = `[...document.querySelectorAll('.plan-sheet .shown, .plan-sheet [data-says], .plan-sheet tbody th, .plan-assumes dd')]
  .filter((node) => node.closest('[hidden]') === null)
  .map((node) => node.textContent.replace(/\\s+/g, ' ').trim())`
const CHART = `document.querySelector('[data-chart]').innerHTML.replace(/ xmlns="[^"]*"/, '').replace(/><\\/path>/g, '/>')`

describe('the plan of a piece', () => {
  test('changes at once with a field, to the very words and lines that the server writes', async () => {
    const { page, context, faults } = await openWindow(browser)
    await page.goto(`${server.url}pieces/1/plan`)
    const before = await page.evaluate<string[]>(SHEET)
    await page.getByLabel('Woven length in cm').fill('212,5')
    await page.getByLabel('Borders turn the other way after picks').fill('240, 720')
    await page.getByLabel('What is done about twist').selectOption('reverse')
    await page.getByLabel('Loom waste in cm').fill('71')
    await page.getByLabel('Warp, madder red').first().selectOption('')
    await page.getByLabel('Winder', { exact: true }).selectOption('turn')
    await page.getByLabel('One turn takes, cm').fill('99')
    await page.waitForFunction(`document.querySelector('[data-figure="warpLength"]').textContent.includes('212.5 cm')`)
    await page.waitForFunction(
      `document.querySelector('[data-figure="windingTurns"]').textContent.includes('99 cm a turn')`,
    )
    const live = await page.evaluate<string[]>(SHEET)
    const chart = await page.evaluate<string>(CHART)
    expect(live).not.toEqual(before)
    const typed = await page.evaluate<string>(
      `new URLSearchParams([...new FormData(document.querySelector('#plan-form'))]).toString()`,
    )
    await page.goto(`${server.url}pieces/1/plan?${typed}`)
    expect(await page.evaluate<string[]>(SHEET)).toEqual(live)
    expect(await page.evaluate<string>(CHART)).toBe(chart)
    expect(faults).toEqual([])
    await context.close()
  })

  test('says beside a field what is wrong with it, and keeps what is open open', async () => {
    const { page, context } = await openWindow(browser)
    await page.goto(`${server.url}pieces/1/plan`)
    await page.locator('[data-figure="warpLength"] summary').click()
    await page.getByLabel('Loom waste in cm').fill('much')
    await page.locator('.field-wasteCm .problem').waitFor()
    expect(await page.locator('.field-wasteCm .problem').textContent()).toContain('Please type a number')
    expect(await page.locator('[data-figure="warpLength"] .shown-how').isVisible()).toBe(true)
    await page.getByLabel('Loom waste in cm').fill('60')
    await page.locator('.field-wasteCm .problem').waitFor({ state: 'detached' })
    await context.close()
  })

  test('without script is worked out by its button, and no word is lost', async () => {
    const { page, context } = await openWindow(browser, { script: false, width: 360 })
    await page.goto(`${server.url}pieces/1/plan`)
    await page.getByLabel('Woven length in cm').fill('77')
    await page.getByLabel('Sample in cm').fill('twice')
    await page.getByRole('button', { name: 'Work it out' }).first().click()
    expect(await page.getByLabel('Woven length in cm').inputValue()).toBe('77')
    expect(await page.getByLabel('Sample in cm').inputValue()).toBe('twice')
    expect(await page.locator('[data-figure="warpLength"]').textContent()).toContain('77 cm')
    expect(await page.getByText('There is a problem').isVisible()).toBe(true)
    await context.close()
  })

  test('its check-list keeps a tick at once, and large targets on a phone', async () => {
    const { page, context } = await openWindow(browser, { width: 360, touch: true })
    await page.goto(`${server.url}pieces/1/plan/threading`)
    const boxes = await page.locator('.threading-one').all()
    for (const box of boxes.slice(0, 4)) {
      const size = await box.boundingBox()
      expect(Math.min(size!.width, size!.height)).toBeGreaterThan(75)
    }
    await boxes[2]!.click()
    await page.getByText('Kept.').waitFor()
    expect(await page.locator('[data-done]').textContent()).toBe('1')
    await page.reload()
    expect(await page.locator('input[name="tablet"]:checked').count()).toBe(1)
    await context.close()
  })
})

describe('its cards on paper', () => {
  test.each([
    ['A4', 210, 297],
    ['Letter', 215.9, 279.4],
  ] as const)(
    'on %s: winding and threading on sheets of their own, within the margins, large',
    async (format, wide, high) => {
      const { page, context } = await openWindow(browser)
      await page.goto(`${server.url}pieces/1/plan/cards`)
      const pdf = new Uint8Array(await page.pdf({ format, preferCSSPageSize: false, printBackground: true }))
      await context.close()
      const { texts, pages } = await listPdfText(pdf)
      const labels = texts.filter(({ text }) => /^(Winding|Threading)$/.test(text))
      expect(labels.map((label) => label.page)).toEqual(pages.map((_, at) => at + 1))
      expect([...new Set(labels.map(({ text }) => text))]).toEqual(['Winding', 'Threading'])
      for (const { text, xMm, yMm, widthMm, page: sheet } of texts) {
        expect(xMm, text).toBeGreaterThan(11.9)
        expect(xMm + widthMm, `${text} on sheet ${sheet}`).toBeLessThan(wide - 11.5)
        expect(yMm, text).toBeGreaterThan(12)
        expect(yMm, `${text} on sheet ${sheet}`).toBeLessThan(high - 12)
      }
      // Ends, metres and turns in 20 pt, for which tablets in 14 pt: what is read at arm's length (our own measure).
      const sizes = (pattern: RegExp) => [
        ...new Set(texts.filter(({ text }) => pattern.test(text)).map(({ sizePt }) => Math.round(sizePt))),
      ]
      expect(sizes(/^\d+ ends/)).toEqual([20])
      expect(sizes(/each for tablets/)).toEqual([14])
      expect(sizes(/^from (left|right)/)).toEqual([12])
    },
  )
})
