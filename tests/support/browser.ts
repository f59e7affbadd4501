import type { Browser, BrowserContext, Cookie, Page } from 'playwright-core'
import { expect } from 'vitest'
import { axeSource, LOOK } from './axe.ts'
import { PASSWORD } from './guild.ts'
import { wantedMode } from './mode.ts'
import { KEEPER, toSignInAt } from './reach.ts'

export interface Reader {
  readonly width?: number
  readonly scheme?: 'light' | 'dark'
  readonly script?: boolean
  /** A phone, with a finger for a pointer. */
  readonly touch?: boolean
}

/** A window as somebody has it, signed in where one has to be. Errors of a page's script and refusals by the content policy are kept in `faults`. */
export async function openWindow(
  browser: Browser,
  { width = 1280, scheme = 'light', script = true, touch = false }: Reader = {},
): Promise<{ page: Page; context: BrowserContext; faults: string[] }> {
  const context = await browser.newContext({
    viewport: { width, height: 900 },
    colorScheme: scheme,
    javaScriptEnabled: script,
    ...(touch && { hasTouch: true, isMobile: true }),
    timezoneId: 'Europe/Berlin',
    locale: 'en-GB',
    storageState: { cookies: await cookiesOfKeeper(browser), origins: [] },
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

const kept = new Map<string, Promise<Cookie[]>>()

/** What the browser was given when the keeper signed in, at every server that asks for it; each is asked once. */
async function cookiesOfKeeper(browser: Browser): Promise<Cookie[]> {
  const all = [...toSignInAt].map((url) => {
    const known = kept.get(url) ?? signIn(browser, url)
    kept.set(url, known)
    return known
  })
  return (await Promise.all(all)).flat()
}

async function fillSignIn(page: Page): Promise<void> {
  await page.getByLabel('Sign-in name').fill(KEEPER)
  await page.getByLabel('Password').fill(PASSWORD)
  await page.getByRole('button', { name: 'Sign in' }).click()
  await page.getByRole('navigation', { name: 'You' }).waitFor()
}

/** After what ends every session, a restore: where one has to sign in the page asks for it now, and leads on. */
export async function signInAgain(page: Page, url: string): Promise<void> {
  if (!toSignInAt.has(url)) return
  kept.delete(url)
  await fillSignIn(page)
}

async function signIn(browser: Browser, url: string): Promise<Cookie[]> {
  const context = await browser.newContext()
  const page = await context.newPage()
  await page.goto(`${url}sign-in`)
  await fillSignIn(page)
  const { cookies } = await context.storageState()
  await context.close()
  return cookies
}

/**
 * Every rule of axe that is no experiment, of WCAG 2.0 to 2.2, A and AA, and of good practice; with `target-size`, which
 * axe leaves off by itself. A page gets axe once, however often and in whatever shape it is looked at.
 */
export async function expectAccessible(page: Page): Promise<void> {
  // However it is reached a page is the same to axe; once is enough.
  if (wantedMode() !== undefined) return
  expect(await listFaults(page), page.url()).toEqual([])
}

/** What axe finds, a line for each rule. */
export async function listFaults(page: Page): Promise<string[]> {
  if (!(await page.evaluate<boolean>("'axe' in window"))) await page.evaluate(axeSource())
  return page.evaluate<string[]>(LOOK)
}

/** Every page of this window is given axe as it opens: where each is looked at, that costs less than giving it to each later. */
export async function bringAxe(context: BrowserContext): Promise<void> {
  if (wantedMode() === undefined) await context.addInitScript(axeSource())
}

/** A page may scroll down, never sideways; what is wide scrolls inside its own box. */
export async function expectNoSidewaysScroll(page: Page): Promise<void> {
  const [needed, given] = await page.evaluate<[number, number]>('[document.documentElement.scrollWidth, innerWidth]')
  expect(needed, page.url()).toBeLessThanOrEqual(given)
}
