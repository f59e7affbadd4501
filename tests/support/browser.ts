import { AxeBuilder } from '@axe-core/playwright'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import { expect } from 'vitest'

export interface Reader {
  readonly width?: number
  readonly scheme?: 'light' | 'dark'
  readonly script?: boolean
}

/** A window as somebody has it. Errors of a page's script and refusals by the content policy are kept in `faults`. */
export async function openWindow(
  browser: Browser,
  { width = 1280, scheme = 'light', script = true }: Reader = {},
): Promise<{ page: Page; context: BrowserContext; faults: string[] }> {
  const context = await browser.newContext({
    viewport: { width, height: 900 },
    colorScheme: scheme,
    javaScriptEnabled: script,
    timezoneId: 'Europe/Berlin',
    locale: 'en-GB',
  })
  // Short of the test's own limit, so that a step that waits in vain says which one it is.
  context.setDefaultTimeout(10_000)
  const page = await context.newPage()
  const faults: string[] = []
  page.on('pageerror', (error) => faults.push(error.message))
  page.on('console', (message) => {
    if (message.type() === 'error') faults.push(message.text())
  })
  return { page, context, faults }
}

/** WCAG 2.0 to 2.2, A and AA, with the `target-size` rule that axe leaves off by itself. */
export async function expectAccessible(page: Page): Promise<void> {
  const { violations } = await new AxeBuilder({ page })
    // There are no frames, so the blank window that axe opens to gather them is not needed.
    .setLegacyMode(true)
    // A picture is one thing with a name; its thousands of stitches hold nothing that a rule could speak of.
    .exclude('svg[role="img"] > *')
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
    .options({ rules: { 'target-size': { enabled: true } } })
    .analyze()
  const said = violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html.slice(0, 160)).join(' | ')}`)
  expect(said, page.url()).toEqual([])
}

/** A page may scroll down, never sideways; what is wide scrolls inside its own box. */
export async function expectNoSidewaysScroll(page: Page): Promise<void> {
  const [needed, given] = await page.evaluate<[number, number]>('[document.documentElement.scrollWidth, innerWidth]')
  expect(needed, page.url()).toBeLessThanOrEqual(given)
}
