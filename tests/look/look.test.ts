import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Browser } from 'playwright-core'
import { openWindow } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { startReached, type Reached } from '../support/reach.ts'
import { startApp } from '../support/start.ts'

const { post, get, broken } = startApp()

test('POST /look remembers light or dark in a cookie, forgets it again, and refuses what is neither', async () => {
  const cookieOf = async (look: string) => (await post('/look', { look })).headers['set-cookie']?.[0] ?? ''
  expect(await cookieOf('dark')).toMatch(/^fellmark-look=dark; .*Path=\/;.*HttpOnly; SameSite=Lax/)
  expect(await cookieOf('device')).toMatch(/^fellmark-look=; .*Expires=Thu, 01 Jan 1970/)
  expect((await post('/look', { look: 'neon' })).status).toBe(422)
  expect(broken).toEqual([])
})

test.each([
  ['fellmark-look=dark', 'content="dark"', 'media="screen"'],
  ['other=1; fellmark-look=light', 'content="light"', undefined],
  ['fellmark-look=neon', 'content="light dark"', 'media="screen and (prefers-color-scheme: dark)"'],
  ['', 'content="light dark"', 'media="screen and (prefers-color-scheme: dark)"'],
])(
  'GET of any page with the cookie %j is told so in its head, also where nothing is there',
  async (cookie, scheme, dark) => {
    for (const path of ['/colophon', '/nowhere']) {
      const { text } = await get(path).set('Cookie', cookie)
      expect(text, path).toContain(`name="color-scheme" ${scheme}`)
      if (dark) expect(text, path).toContain(dark)
      else expect(text, path).not.toContain('dark.css')
    }
  },
)

let browser: Browser
let server: Reached
beforeAll(async () => {
  browser = await launchChromium()
  server = await startReached()
})
afterAll(async () => {
  await browser.close()
  await server.stop()
})

test('in a browser that is dark the pages are light once that is chosen, and paper stays white in any', async () => {
  const { page, context } = await openWindow(browser, { scheme: 'dark', script: false })
  const paper = () => page.evaluate<string>(`getComputedStyle(document.documentElement).backgroundColor`)
  await page.goto(`${server.url}colophon`)
  const dark = await paper()
  await page.getByLabel('Light', { exact: true }).check()
  await page.getByRole('button', { name: 'Show it so' }).click()
  await expect.poll(paper).not.toBe(dark)
  await page.getByLabel('Dark', { exact: true }).check()
  await page.getByRole('button', { name: 'Show it so' }).click()
  await expect.poll(paper).toBe(dark)
  await page.emulateMedia({ media: 'print' })
  expect(await paper()).toBe('rgb(255, 255, 255)')
  await context.close()
})
