import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { expectAccessible, expectNoSidewaysScroll, openWindow } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { startReached, type Reached } from '../support/reach.ts'
import { makeJpeg } from './send.ts'

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

const file = (buffer: Buffer, name = 'IMG 7.jpg') => ({ name, mimeType: 'image/jpeg', buffer })

describe('photographs in a browser', () => {
  test.each([
    [1280, 'light'],
    [360, 'dark'],
  ] as const)(
    'at %d px, %s, have no fault that axe can see and do not scroll sideways',
    async (width, scheme) => {
      const { page, context, faults } = await openWindow(browser, { width, scheme })
      for (const path of ['photos/1', 'photos/1?zoom=4', 'photos/1/edit', 'originals/1/photos/new', 'pieces/1']) {
        await page.goto(server.url + path)
        await expectAccessible(page)
        await expectNoSidewaysScroll(page)
      }
      await page.goto(`${server.url}originals/1/photos/new`)
      await page.getByRole('button', { name: 'Add photograph' }).click()
      await page.getByRole('alert').waitFor()
      expect(await page.title()).toMatch(/^Error: /)
      await expectAccessible(page)
      await expectNoSidewaysScroll(page)
      // The form that comes back is a 422, and Chromium says so in its console.
      expect(faults.filter((fault) => !fault.includes('422'))).toEqual([])
      await context.close()
    },
    90_000,
  )

  test.each([true, false])('are added, looked at, deleted and brought back, script %s', async (script) => {
    const { page, context, faults } = await openWindow(browser, { script })
    await page.goto(`${server.url}originals/1`)
    await page.getByRole('link', { name: 'Add a photograph' }).click()
    await page.getByLabel('What is seen').fill(`Corner of the reverse ${script}`)
    await page.getByLabel('The file').setInputFiles(file(await makeJpeg({ colour: script ? '#446688' : '#886644' })))
    await page.getByRole('button', { name: 'Add photograph' }).click()
    const picture = page.getByRole('img', { name: `Corner of the reverse ${script}` })
    await picture.waitFor()
    const size = (await picture.boundingBox())!
    await page.getByRole('link', { name: 'Twice as wide' }).click()
    await page.locator('.photo-steps [aria-current]').getByText('Twice as wide').waitFor()
    expect((await picture.boundingBox())!.width).toBeGreaterThan(size.width * 1.5)
    await expectNoSidewaysScroll(page)
    await page.getByRole('button', { name: 'Delete' }).click()
    expect(page.url()).toContain('/originals/1?undo=')
    expect(await picture.count()).toBe(0)
    await page.getByRole('button', { name: 'Undo' }).click()
    await picture.waitFor()
    expect(faults).toEqual([])
    await context.close()
  })

  test('grow and shrink by the keys once chosen, and by the wheel where the pointer is', async () => {
    const { page, context } = await openWindow(browser)
    await page.goto(`${server.url}photos/1`)
    const box = page.locator('[data-zoom-box]')
    const widthOf = async () => (await box.locator('img').boundingBox())!.width
    const whole = await widthOf()
    await page.keyboard.press('+')
    expect(await widthOf()).toBe(whole)
    await box.focus()
    for (let times = 0; times < 4; times += 1) await page.keyboard.press('+')
    const grown = await widthOf()
    expect(grown).toBeGreaterThan(whole * 2)
    const { x, y, width, height } = (await box.boundingBox())!
    await page.mouse.move(x + width - 5, y + height - 5)
    await page.mouse.wheel(0, -300)
    await expect.poll(widthOf).toBeGreaterThan(grown)
    expect(await page.evaluate<number>("document.querySelector('[data-zoom-box]').scrollLeft")).toBeGreaterThan(100)
    await page.keyboard.press('0')
    expect(await widthOf()).toBe(whole)
    await context.close()
  })
})
