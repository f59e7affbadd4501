import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { expectAccessible, expectNoSidewaysScroll, openWindow } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { wantedMode } from '../support/mode.ts'
import { startReached, type Reached } from '../support/reach.ts'

const FIXTURE = new URL('fixtures/v1-demo.zip', import.meta.url).pathname

let browser: Browser
let server: Reached
beforeAll(async () => {
  server = await startReached()
  browser = await launchChromium()
})
afterAll(async () => {
  await browser.close()
  await server.stop()
})

const look = async (page: Page) => {
  await page.getByLabel('Archive', { exact: true }).setInputFiles(FIXTURE)
  await page.getByRole('button', { name: 'Look at it' }).click()
}

describe('an archive in the browser, without script', () => {
  test('comes in, and the second time asks which of two is to stand', async () => {
    const { page, context } = await openWindow(browser, { script: false })
    await page.goto(`${server.url}import`)
    await look(page)
    // Among members nothing comes in as if its owner had written it here.
    const own = wantedMode() === undefined ? 'everything comes in exactly as it was' : 'What is new belongs to you'
    await page.getByText(own).waitFor()
    await page.getByRole('button', { name: 'Bring it in' }).click()
    await page.getByText('270 records came in').waitFor()
    await page.goto(`${server.url}sources/1/edit`)
    await page.getByLabel('Title').fill('Another title')
    await page.getByRole('button', { name: 'Save source' }).click()
    await page.goto(`${server.url}import`)
    await look(page)
    await page.getByRole('heading', { name: 'Import: some of it is here already, and differs' }).waitFor()
    await page.getByRole('button', { name: 'Bring it in' }).click()
    await page.getByText('There is a problem').waitFor()
    await page
      .getByRole('group', { name: /^Source/ })
      .getByLabel('Take what is in the archive')
      .check()
    await page.getByRole('button', { name: 'Bring it in' }).click()
    await page.getByText('1 now says what the archive says').waitFor()
    await context.close()
  })

  test.each([
    [1280, 'light'],
    [1280, 'dark'],
    [360, 'light'],
    [360, 'dark'],
  ] as const)(
    'its pages at %d px, %s, have no fault that axe can see and do not scroll sideways',
    async (width, scheme) => {
      const { page, context, faults } = await openWindow(browser, { width, scheme })
      const good = async (name: string) => {
        await expectAccessible(page)
        await expectNoSidewaysScroll(page)
        if (process.env.SHOTS)
          await page.screenshot({ path: `${process.env.SHOTS}/${name}-${width}-${scheme}.png`, fullPage: true })
      }
      await page.goto(`${server.url}export`)
      await good('export')
      await page.goto(`${server.url}import`)
      await good('import')
      await page.getByRole('button', { name: 'Look at it' }).click()
      await page.getByText('There is a problem').waitFor()
      await good('import-problem')
      await page.goto(`${server.url}sources/1/edit`)
      await page.getByLabel('Title').fill(`A title at ${width} ${scheme}`)
      await page.getByRole('button', { name: 'Save source' }).click()
      await page.goto(`${server.url}import`)
      await look(page)
      await page.getByText('some of it is here already').waitFor()
      await good('choose')
      await page.getByRole('button', { name: 'Bring it in' }).click()
      await page.getByText('There is a problem').waitFor()
      await good('choose-problem')
      await page.getByLabel('Keep what is here').first().check()
      await page.getByRole('button', { name: 'Bring it in' }).click()
      await page.getByText('1 stayed as it was here').waitFor()
      await good('done')
      expect(faults.filter((fault) => !fault.includes('422'))).toEqual([])
      await context.close()
    },
    120_000,
  )
})
