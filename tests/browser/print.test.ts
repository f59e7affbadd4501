import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { openWindow } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { listPdfLines, readPdfText } from '../support/pdf.ts'
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

async function print(path: string): Promise<Uint8Array> {
  const { page, context } = await openWindow(browser)
  await page.goto(server.url + path)
  const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: true, tagged: true })
  await context.close()
  return new Uint8Array(pdf)
}

describe('the comparison on paper', () => {
  test('a line of 100 mm measures 100 mm', async () => {
    const lines = await listPdfLines(await print('pieces/1/compare'))
    const horizontal = lines.filter(({ widthMm, heightMm }) => heightMm < 0.01 && widthMm > 60)
    const closest = horizontal.map(({ widthMm }) => Math.abs(widthMm - 100)).sort((left, right) => left - right)[0]
    expect(closest).toBeLessThan(0.1)
  })

  test('has the figures, their sources and the verdicts, and no navigation', async () => {
    const text = await readPdfText(await print('pieces/1/compare'))
    expect(text).toContain('At true size')
    expect(text).toContain('Ratio and verdict')
    expect(text).toContain('larger than the original')
    expect(text).not.toContain('Search')
    expect(text).not.toContain('Originals Drafts')
  })
})
