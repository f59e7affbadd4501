import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
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

const PATHS = [
  ...['', 'originals', 'drafts', 'pieces', 'sources', 'compare', 'colophon', 'demo/remove', 'features', 'nowhere'],
  ...['originals/1', 'originals/1/edit', 'originals/new', 'originals/1/claims/new?feature=width', 'claims/1'],
  ...[
    'drafts/1',
    'drafts/4',
    'drafts/4/edit',
    'drafts/new',
    'drafts/new/bench',
    'drafts/4/bench',
    'drafts/import',
    'drafts/infer',
    'drafts/infer?example=yes',
    'drafts/overlay',
    'drafts/overlay?a=1&b=2',
    'drafts/1/revisions/1/recover',
    'drafts/1/revisions/1/recover?pick=1&tablet=2&topNear=A&topFar=B',
    'yarns/reckon',
    ...[
      'yarns',
      'yarns/new',
      'yarns/import',
      'yarns/fibres',
      'yarns/fibres/new?fibre=wool',
      'yarns/colour?lot=2&other=3',
      'yarns/1',
      'yarns/1/edit',
      'yarns/1/history',
    ],
    ...['yarns/1/lots/new', 'lots/2', 'lots/2?do=used', 'lots/2?do=dyed', 'lots/2/edit', 'movements/1/correct'],
    ...['pieces/7/settle', 'pieces/8/settle', 'drafts/1/revisions/1/lots?fill=nearest'],
    'yarns/reckon?count=Nm+28%2F2&turns=420&wraps=20&over=25.4',
    'drafts/1/convention',
    'drafts/1/revisions/1/cards',
    'drafts/4/revisions/1/export',
    'drafts/2/revisions/1/tell?neutral=yes&turning=yes&over=3',
  ],
  ...['pieces/1', 'pieces/1/edit', 'pieces/new', 'pieces/1/delete', 'pieces/1/sittings/new', 'sittings/1/edit'],
  ...['pieces/1/plan', 'pieces/2/plan', 'pieces/1/plan/cards', 'pieces/1/plan/threading'],
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
    'observed/new?piece=1&photo=1',
    'observed/1',
    'observed/new?again=1',
  ],
  ...['sources/1', 'sources/1/edit', 'sources/new', 'search?q=madder', 'search?q=zzzz'],
]

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
    for (const path of ['', 'pieces/1/compare', 'drafts/4/edit']) {
      await page.goto(server.url + path)
      await expectAccessible(page)
      await expectNoSidewaysScroll(page)
    }
    expect(faults).toEqual([])
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
