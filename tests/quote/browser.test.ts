import type { Browser, Page } from 'playwright-core'
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
const SHEET = `[...document.querySelectorAll('.quote-sheet .shown, .quote-sheet [data-says], .quote-sheet tbody th')]
  .filter((node) => node.closest('[hidden]') === null)
  .map((node) => node.textContent.replace(/\\s+/g, ' ').trim())`

/** The quote of the demo collection that is not sent yet. */
async function openDraft(page: Page): Promise<void> {
  await page.goto(`${server.url}quotes`)
  await page.getByRole('link', { name: 'A chevron band to learn from' }).click()
  await page.getByRole('heading', { name: 'A chevron band to learn from' }).waitFor()
}

describe('a quote', () => {
  test('changes at once with a field, to the very words that the server writes by its button without script', async () => {
    const { page, context, faults } = await openWindow(browser)
    await openDraft(page)
    const before = await page.evaluate<string[]>(SHEET)
    const typed = {
      'Weave, unweaving with it, h': '7.35',
      'An hour costs': '28,50',
      'Tax, percent': '19',
      'All hours, high': '99',
    }
    for (const [label, value] of Object.entries(typed)) await page.getByLabel(label, { exact: true }).fill(value)
    await page.waitForFunction(`document.querySelector('[data-rows="hours"]').textContent.includes('209.48')`)
    await page.waitForFunction(`document.querySelector('[data-rows="build"]').textContent.includes('99 h')`)
    const live = await page.evaluate<string[]>(SHEET)
    expect(live).not.toEqual(before)
    expect(faults).toEqual([])
    await context.close()
    const plain = await openWindow(browser, { script: false, width: 360 })
    await openDraft(plain.page)
    for (const [label, value] of Object.entries(typed)) await plain.page.getByLabel(label, { exact: true }).fill(value)
    await plain.page.getByRole('button', { name: 'Work it out' }).first().click()
    expect(await plain.page.evaluate<string[]>(SHEET)).toEqual(live)
    expect(await plain.page.getByLabel('An hour costs', { exact: true }).inputValue()).toBe('28,50')
    await plain.context.close()
  })

  test('that was sent prints on A4 and on Letter: its number, its sum and both parties, nothing over the edge', async () => {
    const { page, context } = await openWindow(browser)
    await page.goto(`${server.url}quotes`)
    await page.getByRole('link', { name: 'A band with a fret, to be touched' }).click()
    await page.getByRole('link', { name: /^Version 1/ }).click()
    for (const [format, widthMm, heightMm] of [
      ['A4', 210, 297],
      ['Letter', 215.9, 279.4],
    ] as const) {
      const { texts, pages } = await listPdfText(
        new Uint8Array(await page.pdf({ format, preferCSSPageSize: false, printBackground: true })),
      )
      expect(pages.length).toBeLessThanOrEqual(3)
      for (const size of pages) {
        expect(size.widthMm).toBeCloseTo(widthMm, 0)
        expect(size.heightMm).toBeCloseTo(heightMm, 0)
      }
      const words = texts
        .map(({ text }) => text)
        .join(' ')
        .replace(/\s+/g, ' ')
      for (const said of [
        '2025-001',
        '1 290.00 EUR',
        'Ineth Vallow',
        'Museum day at Quennet',
        '40 % with the order',
        '516.00 EUR',
      ])
        expect(words, format).toContain(said)
      expect(words).not.toContain('Back to the quote')
      const over = texts.filter(
        ({ text, xMm, yMm, widthMm: wide }) =>
          text.trim() !== '' && (xMm < 5 || xMm + wide > widthMm - 5 || yMm < 5 || yMm > heightMm - 5),
      )
      expect(over).toEqual([])
      // Large enough to be read on paper.
      expect(Math.min(...texts.filter(({ text }) => text.trim() !== '').map(({ sizePt }) => sizePt))).toBeGreaterThan(8)
    }
    await context.close()
  })
})
