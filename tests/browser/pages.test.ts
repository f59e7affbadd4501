import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { expectAccessible, expectNoSidewaysScroll, openWindow } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { startServer, type Running } from '../support/server.ts'

let browser: Browser
let server: Running
beforeAll(async () => {
  server = await startServer({ demo: true })
  browser = await launchChromium()
})
afterAll(async () => {
  await browser.close()
  await server.stop()
})

const PATHS = [
  ...['', 'originals', 'drafts', 'pieces', 'sources', 'compare', 'colophon', 'demo/remove', 'features', 'nowhere'],
  ...['originals/1', 'originals/1/edit', 'originals/new', 'originals/1/claims/new?feature=width', 'claims/1'],
  ...['drafts/1', 'drafts/4', 'drafts/4/edit', 'drafts/new', 'drafts/import'],
  ...['pieces/1', 'pieces/1/edit', 'pieces/new', 'pieces/1/delete', 'pieces/1/sittings/new', 'sittings/1/edit'],
  ...['pieces/1/compare', 'pieces/4/compare', 'compare?piece=1&piece=2&piece=3&piece=4&piece=5'],
  ...[
    'bin',
    'keeper',
    'keeper/check',
    'members',
    'export',
    'import',
    'pieces/1/history',
    'photos/1',
    'photos/1/edit',
    'pieces/1/photos/new',
  ],
  ...['sources/1', 'sources/1/edit', 'sources/new', 'search?q=madder', 'search?q=zzzz'],
]

describe('every page of the demo collection', () => {
  test.each([
    [1280, 'light'],
    [1280, 'dark'],
    [360, 'light'],
    [360, 'dark'],
  ] as const)(
    'at %d px, %s, has no fault that axe can see and does not scroll sideways',
    async (width, scheme) => {
      const { page, context, faults } = await openWindow(browser, { width, scheme })
      for (const path of PATHS) {
        await page.goto(server.url + path)
        await expectAccessible(page)
        await expectNoSidewaysScroll(page)
      }
      // The address that is not there is a 404, and Chromium says so in its console.
      expect(faults.filter((fault) => !fault.includes('404'))).toEqual([])
      await context.close()
    },
    180_000,
  )

  test('with type of 200 % at 1280 px does not scroll sideways', async () => {
    const { page, context } = await openWindow(browser, { width: 640 })
    for (const path of PATHS) {
      await page.goto(server.url + path)
      await expectNoSidewaysScroll(page)
    }
    await context.close()
  }, 60_000)
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
