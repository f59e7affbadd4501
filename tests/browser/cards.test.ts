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

const PAPERS = [
  ['A4', 210, 297],
  ['Letter', 215.9, 279.4],
] as const

describe('the cards of a draft on paper', () => {
  test.each(PAPERS)('on %s: whole, large, each block on a sheet of its own', async (format, widthMm, heightMm) => {
    const { page, context } = await openWindow(browser)
    await page.goto(`${server.url}drafts/4/revisions/1/cards?as=frame&from=1&to=20&perCard=4`)
    const pdf = new Uint8Array(await page.pdf({ format, preferCSSPageSize: false, printBackground: true }))
    await context.close()
    const { texts, pages } = await listPdfText(pdf)

    for (const paper of pages) {
      expect(paper.widthMm).toBeCloseTo(widthMm, 0)
      expect(paper.heightMm).toBeCloseTo(heightMm, 0)
    }
    // Every sheet says what it is; nothing reaches into the margins, which printers cannot print.
    const labels = texts.filter(({ text }) => /^(Threading|Picks \d+ to \d+ of \d+)$/.test(text))
    expect(labels.map((label) => label.page)).toEqual(pages.map((_, at) => at + 1))
    expect([...new Set(labels.map(({ text }) => text))]).toEqual([
      'Threading',
      ...[1, 5, 9, 13, 17].map((from) => `Picks ${from} to ${from + 3} of 64`),
    ])
    for (const { text, xMm, yMm, widthMm: long, page: sheet } of texts) {
      expect(xMm, text).toBeGreaterThan(11.9)
      expect(xMm + long, `${text} on sheet ${sheet}`).toBeLessThan(widthMm - 11.5)
      expect(yMm, text).toBeGreaterThan(12)
      expect(yMm, `${text} on sheet ${sheet}`).toBeLessThan(heightMm - 12)
    }
    // Runs in 20 pt, numbers of picks in 15 pt, tablets in 14 pt: what is read at arm's length (our own measure).
    const turns = texts.filter(({ page: sheet }) => sheet > labels.filter(({ text }) => text === 'Threading').length)
    const sizes = (pattern: RegExp) => [
      ...new Set(turns.filter(({ text }) => pattern.test(text)).map(({ sizePt }) => Math.round(sizePt * 10) / 10)),
    ]
    expect(sizes(/^\d+[FBI]( \d+[FBI])*$/)).toEqual([20])
    expect(sizes(/^\d+( to \d+)? (forward|back),?$/)).toEqual([14])
    const numbers = turns.filter(({ text }) => /^\d+$/.test(text))
    expect(numbers.map(({ text }) => Number(text))).toEqual(Array.from({ length: 20 }, (_, at) => at + 1))
    expect(numbers.every(({ sizePt }) => Math.abs(sizePt - 15) < 0.1)).toBe(true)
    // Tablets in 16 pt, each once and in order, the letters in their holes in 11 pt and more.
    const threading = texts.filter(({ page: sheet }) => !turns.some((turn) => turn.page === sheet))
    const tablets = threading.filter(({ text, sizePt }) => /^\d+$/.test(text) && sizePt > 15)
    expect(tablets.map(({ text }) => Number(text))).toEqual(Array.from({ length: 37 }, (_, at) => at + 1))
    const letters = threading.filter(({ text }) => /^[ABCD]$/.test(text))
    expect(letters.length).toBeGreaterThanOrEqual(4 * 37)
    expect(Math.min(...letters.map(({ sizePt }) => sizePt))).toBeGreaterThan(11)
  })

  test('while one types by a convention card, the live picture is that of the draft in our own frame', async () => {
    const { page, context, faults } = await openWindow(browser)
    const drawnOf = async (typed: Record<string, string>, answers: readonly string[]) => {
      await page.goto(`${server.url}drafts/new`)
      await page.locator('.convention summary').click()
      for (const id of answers) await page.check(`#${id}`)
      for (const [name, text] of Object.entries(typed)) await page.fill(`[name=${name}]`, text)
      await page.getByText('3 tablets, 4 picks.').waitFor()
      return page.locator('.draft-live-picture svg').innerHTML()
    }
    // By hand: counted from the right, rows upward, F towards the reader.
    const ours = { threading: 'S m m m m\nZ m w w m\nZ m m w w from C', turning: '2F 1B\n3F\n1B 2F\n3B' }
    const theirs = { threading: 'Z m m w w from C\nZ m w w m\nS m m m m', turning: '3F\n2B 1F\n3B\n1F 2B' }
    const answers = ['f-written-card', 'f-card-count-right', 'f-card-rows-upward', 'f-card-forward-towards']
    expect(await drawnOf(theirs, answers)).toBe(await drawnOf(ours, []))
    expect(faults).toEqual([])
    await context.close()
  })

  test('without script: the convention of one’s own is chosen, shown and remembered', async () => {
    const { page, context, faults } = await openWindow(browser, { width: 360, script: false })
    await page.goto(`${server.url}drafts/4/revisions/1/cards`)
    await page.selectOption('select[name=as]', 'own')
    await page.click('summary')
    await page.check('#f-card-count-right')
    await page.click('text=Show, and remember it here')
    await page.goto(`${server.url}drafts/1/revisions/1/cards`)
    expect(await page.textContent('.card-reading')).toContain('Tablet 1 is at your right.')
    expect(faults).toEqual([])
    await context.close()
  })
})
