import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { expectAccessible, expectNoSidewaysScroll, openWindow } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { PASSWORD } from '../support/guild.ts'
import { startServer, type Running } from '../support/server.ts'

let browser: Browser
let server: Running
beforeAll(async () => {
  browser = await launchChromium()
  // Plain http on an address that is not loopback: what a guild has in its own network.
  server = await startServer({ env: { HOST: '0.0.0.0' } })
})
afterAll(async () => {
  await browser?.close()
  await server?.stop()
})

async function fill(page: Page, fields: Record<string, string>): Promise<void> {
  for (const [label, text] of Object.entries(fields)) await page.getByLabel(label).first().fill(text)
}

describe('people, on plain http in a local network', () => {
  test('the printed link, the first keeper, an invitation, a guest, an account, and out again', async () => {
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
    await page.goto(/^http:\S+\/setup\/[\w-]{43}$/m.exec(server.said())?.[0] ?? '')
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
    await good()
    await page.getByRole('link', { name: 'Oda' }).click()
    await page.getByLabel('What it is for').fill('my script')
    await page.getByRole('button', { name: 'Make a token' }).click()
    await good()
    await page.getByRole('link', { name: 'I have copied it' }).click()
    await good()
    await page.getByRole('button', { name: 'Sign out', exact: true }).click()
    await page.getByText('You are signed out.').waitFor()
    await good()
    await fill(page, { 'Sign-in name': 'oda', Password: PASSWORD })
    await page.getByRole('button', { name: 'Sign in' }).click()
    await page.getByRole('navigation', { name: 'You' }).waitFor()
    // Chromium says so of a form that came back, and of two headers that count on https alone.
    const known = /422|Cross-Origin-Opener-Policy header has been ignored|Clear-Site-Data header/
    expect([...faults, ...guest.faults].filter((fault) => !known.test(fault))).toEqual([])
  }, 120_000)
})
