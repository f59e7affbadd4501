import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { bringAxe, expectAccessible, expectNoSidewaysScroll, listFaults, openWindow } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { startReached, type Reached } from '../support/reach.ts'
import { PATHS } from './paths.ts'

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

const SHAPES = [
  [1280, 'light'],
  [1280, 'dark'],
  [360, 'light'],
  [360, 'dark'],
] as const

describe('every page of the demo collection', () => {
  let window: Awaited<ReturnType<typeof openWindow>>
  beforeAll(async () => {
    window = await openWindow(browser)
    await bringAxe(window.context)
  })
  afterAll(() => window.context.close())

  // Opened once and then made narrow and dark, for opening takes as long as looking.
  test.each(PATHS)(
    '/%s, wide and narrow, light and dark, has no fault that axe can see and does not scroll sideways',
    async (path) => {
      const { page, faults } = window
      faults.length = 0
      await page.goto(server.url + path)
      for (const [width, scheme] of SHAPES) {
        await page.setViewportSize({ width, height: 900 })
        await page.emulateMedia({ colorScheme: scheme })
        await expectAccessible(page)
        await expectNoSidewaysScroll(page)
      }
      // Type of 200 % at 1280 px.
      await page.setViewportSize({ width: 640, height: 900 })
      await expectNoSidewaysScroll(page)
      // The address that is not there is a 404, and Chromium says so in its console.
      expect(faults.filter((fault) => path !== 'nowhere' || !fault.includes('404'))).toEqual([])
    },
    60_000,
  )

  test.each([
    [1280, 'dark'],
    [360, 'light'],
    [360, 'dark'],
  ] as const)('its first pages, opened at %d px, %s, are no worse', async (width, scheme) => {
    const { page, context, faults } = await openWindow(browser, { width, scheme })
    await bringAxe(context)
    for (const path of ['', 'pieces/1/compare', 'drafts/4/edit']) {
      await page.goto(server.url + path)
      await expectAccessible(page)
      await expectNoSidewaysScroll(page)
    }
    expect(faults).toEqual([])
    await context.close()
  })
})

describe('listFaults(page)', () => {
  test('has what cannot be read, has no name, or takes the focus inside a picture', async () => {
    const { page, context } = await openWindow(browser)
    const body = (content: string) =>
      `<!doctype html><html lang="en"><title>A</title><main><h1>A</h1>${content}</main></html>`
    const picture = (content: string) =>
      `<svg role="img" aria-label="A" viewBox="0 0 9 9"><path d="M0 0h9"/>${content}</svg>`
    await page.setContent(body(picture('<text y="9" fill="#eee">Hardly to be read</text>')))
    expect(await listFaults(page)).toEqual([])
    for (const [content, rule] of [
      ['<p style="color: #bbb; background: #fff">Hardly to be read</p>', 'color-contrast'],
      ['<svg role="img" viewBox="0 0 9 9"><path d="M0 0h9"/></svg>', 'svg-img-alt'],
      [picture('<g><a href="/"><path d="M0 0h9"/></a></g>'), 'nested-interactive'],
    ] as const) {
      await page.setContent(body(content))
      expect(await listFaults(page)).toEqual([expect.stringContaining(`${rule}: `)])
    }
    await context.close()
  })
})

describe('by keyboard alone', () => {
  test('the first stop leads past the head, and each stop is seen', async () => {
    const { page, context } = await openWindow(browser)
    await page.goto(`${server.url}sources`)
    await page.keyboard.press('Tab')
    expect(await page.evaluate('document.activeElement.textContent')).toBe('To the content')
    await page.keyboard.press('Enter')
    for (let stop = 0; stop < 12; stop += 1) {
      await page.keyboard.press('Tab')
      const outline = await page.evaluate<string>(
        'getComputedStyle(document.activeElement).outlineStyle + " " + getComputedStyle(document.activeElement).outlineWidth',
      )
      expect(outline).toBe('solid 3px')
    }
    await context.close()
  })

  test('a source is written, refused, mended and saved', async () => {
    const { page, context } = await openWindow(browser)
    await page.goto(`${server.url}sources/new`)
    await page.getByLabel('Title').focus()
    await page.keyboard.press('Tab')
    await page.keyboard.type('Visser, A.')
    await page.keyboard.press('Enter')
    await page.getByText('There is a problem').waitFor()
    await page.getByRole('link', { name: /^Title/ }).focus()
    await page.keyboard.press('Enter')
    await page.keyboard.type('Letter about the fret band')
    expect(await page.getByLabel('Authors').inputValue()).toBe('Visser, A.')
    await page.keyboard.press('Enter')
    await page.getByRole('heading', { level: 1, name: 'Letter about the fret band' }).waitFor()
    await context.close()
  })
})
