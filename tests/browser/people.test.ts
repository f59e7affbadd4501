import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { expectAccessible, expectNoSidewaysScroll, openWindow } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { PASSWORD } from '../support/guild.ts'
import { modesOf } from '../support/mode.ts'
import { startReached } from '../support/reach.ts'

let browser: Browser
beforeAll(async () => {
  browser = await launchChromium()
})
afterAll(async () => {
  await browser?.close()
})

async function fill(page: Page, fields: Record<string, string>): Promise<void> {
  for (const [label, text] of Object.entries(fields)) await page.getByLabel(label).first().fill(text)
}

describe('people, on plain http in a local network, and by https below a path', () => {
  test.each(modesOf(['lan', 'sub-path']))(
    '%s: link, keeper, invitation, guest, account, and out again',
    async (mode) => {
      const server = await startReached({ mode, withoutAccount: true })
      const { page, faults } = await openWindow(browser, { width: 1280 })
      const good = async (on = page) => {
        for (const width of [1280, 360]) {
          await on.setViewportSize({ width, height: 900 })
          await expectNoSidewaysScroll(on)
          await expectAccessible(on)
        }
      }
      await page.goto(server.url)
      expect(page.url()).toBe(`${server.url}sign-in?next=%2F`)
      await good()
      await page.goto(server.setupLink)
      await good()
      await page.getByRole('button', { name: 'Make my account' }).click()
      await page.getByText('There is a problem').waitFor()
      await good()
      await fill(page, { 'Your name': 'Oda', 'Sign-in name': 'oda', Password: PASSWORD })
      await page.getByRole('button', { name: 'Make my account' }).click()
      await page.getByRole('heading', { name: 'People' }).waitFor()
      await page.getByLabel('Role').last().selectOption('guest')
      await page.getByRole('button', { name: 'Make an invitation' }).click()
      const invitation = await page.getByLabel('The link, good once').inputValue()
      await good()

      const guest = await openWindow(browser, { width: 360, scheme: 'dark', script: false })
      await guest.page.goto(invitation)
      await fill(guest.page, { 'Your name': 'Brand', 'Sign-in name': 'brand', Password: PASSWORD })
      await guest.page.getByRole('button', { name: 'Make my account' }).click()
      await guest.page.getByText('Nothing in this notebook is shared with you yet.').waitFor()

      await page.getByRole('link', { name: 'I have copied it' }).click()
      await page.getByText('Brand', { exact: true }).waitFor()
      await good()
      await page.getByRole('link', { name: 'End membership of Brand' }).click()
      await page.waitForURL(/leave$/)
      await good()
      await page.getByRole('link', { name: 'Oda' }).click()
      await page.getByLabel('What it is for').fill('my script')
      await page.getByRole('button', { name: 'Make a token' }).click()
      await page.getByRole('link', { name: 'I have copied it' }).waitFor()
      await good()
      await page.getByRole('link', { name: 'I have copied it' }).click()
      await page.getByRole('link', { name: 'I have copied it' }).waitFor({ state: 'detached' })
      await good()
      await page.getByRole('button', { name: 'Sign out', exact: true }).click()
      await page.getByText('You are signed out.').waitFor()
      await good()
      await fill(page, { 'Sign-in name': 'oda', Password: PASSWORD })
      await page.getByRole('button', { name: 'Sign in' }).click()
      await page.getByRole('navigation', { name: 'You' }).waitFor()
      // Chromium says so of a form that came back.
      expect([...faults, ...guest.faults].filter((fault) => !fault.includes('422'))).toEqual([])
      await page.context().close()
      await guest.context.close()
      await server.stop()
    },
    120_000,
  )
})
