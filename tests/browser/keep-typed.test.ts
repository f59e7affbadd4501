import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { expectAccessible, expectNoSidewaysScroll, openWindow } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { PASSWORD } from '../support/guild.ts'
import { startReached, type Reached } from '../support/reach.ts'

let browser: Browser
let server: Reached
beforeAll(async () => {
  server = await startReached({ withoutAccount: true })
  browser = await launchChromium()
  const { page, context } = await openWindow(browser)
  await page.goto(server.setupLink)
  await page.getByLabel('Your name').fill('Oda')
  await page.getByLabel('Sign-in name').fill('oda')
  await page.getByLabel('Password').fill(PASSWORD)
  await page.getByRole('button', { name: 'Make my account' }).click()
  await page.getByLabel('Role').last().selectOption('member')
  await page.getByRole('button', { name: 'Make an invitation' }).click()
  const invitation = await page.getByLabel('The link, good once').inputValue()
  const other = await openWindow(browser)
  await other.page.goto(invitation)
  await other.page.getByLabel('Your name').fill('Brand')
  await other.page.getByLabel('Sign-in name').fill('brand')
  await other.page.getByLabel('Password').fill(PASSWORD)
  await other.page.getByRole('button', { name: 'Make my account' }).click()
  await other.context.close()
  await context.close()
}, 120_000)
afterAll(async () => {
  await browser?.close()
  await server?.stop()
})

async function signIn(page: Page, name: string): Promise<void> {
  if (!page.url().includes('sign-in')) await page.goto(`${server.url}sign-in`)
  await page.getByLabel('Sign-in name').fill(name)
  await page.getByLabel('Password').fill(PASSWORD)
  await page.getByRole('button', { name: 'Sign in', exact: true }).click()
  await page.getByRole('navigation', { name: 'You' }).waitFor()
}

const offerOn = (page: Page) => page.locator('.typed-offer')
const keptOn = (page: Page) =>
  page.evaluate<string[]>(
    `Object.keys(localStorage).filter((key) => key.startsWith('fellmark typed') && localStorage.getItem(key).startsWith('{'))`,
  )
/** The offer comes as soon as other windows had time to say that they are open. */
const expectNoOffer = async (page: Page) => {
  await page.waitForTimeout(600)
  expect(await offerOn(page).count()).toBe(0)
}
/** What Chromium says of a form that was refused. */
const others = (faults: readonly string[]) => faults.filter((fault) => !/40[39]|422/.test(fault))

test('a form that was left is offered again, put back, refused, saved, and then forgotten', async () => {
  const { page, context, faults } = await openWindow(browser, { width: 360 })
  await signIn(page, 'oda')
  await page.goto(`${server.url}sources/new`)
  await page.getByLabel('Authors').fill('Visser, A.')
  await page.getByLabel('Kind').selectOption('letter')
  // At most 2 s after the last key, with nothing else done.
  await page.getByText(/^Kept on this device, \d\d:\d\d\.$/).waitFor({ timeout: 2500 })
  await page.getByLabel('Notes').fill('The fret band,\nwarp faced.')
  await page.goto(server.url)
  await page.goto(`${server.url}sources/new`)
  const offer = offerOn(page)
  await offer.waitFor()
  expect(await offer.innerText()).toMatch(/^You typed something here on \d+ \w+, \d\d:\d\d and did not save it\./)
  expect(await offer.locator('dt').allInnerTexts()).toEqual(['Authors', 'Kind', 'Notes'].map(() => expect.any(String)))
  expect(await offer.locator('dd').allInnerTexts()).toEqual([
    'Visser, A.',
    'Letter or message',
    'The fret band,\nwarp faced.',
  ])
  expect(await page.getByLabel('Authors').inputValue()).toBe('')
  await expectAccessible(page)
  await expectNoSidewaysScroll(page)

  await offer.getByRole('button', { name: 'Throw it away' }).click()
  await offer.getByRole('button', { name: 'Undo' }).click()
  await offer.getByRole('button', { name: 'Put it back' }).click()
  expect(await page.getByLabel('Authors').inputValue()).toBe('Visser, A.')
  expect(await page.getByLabel('Kind').inputValue()).toBe('letter')
  expect(await page.getByLabel('Notes').inputValue()).toBe('The fret band,\nwarp faced.')
  // Without a title it comes back: nothing to offer, for all of it stands there; but it is still kept.
  await page.getByRole('button', { name: 'Save source' }).click()
  await page.getByText('There is a problem').waitFor()
  await expectNoOffer(page)
  expect(await keptOn(page)).toHaveLength(1)
  await page.goto(`${server.url}sources/new`)
  await offer.getByRole('button', { name: 'Put it back' }).click()
  await page.getByLabel('Title').fill('Letter about the fret band')
  await page.getByRole('button', { name: 'Save source' }).click()
  await page.getByRole('heading', { level: 1, name: 'Letter about the fret band' }).waitFor()
  expect(await keptOn(page)).toEqual([])
  await page.goto(`${server.url}sources/new`)
  await expectNoOffer(page)
  expect(others(faults)).toEqual([])
  await context.close()
})

test('a change that somebody overtook says so, and when it is put back and saved both are shown', async () => {
  const { page, context } = await openWindow(browser)
  await signIn(page, 'oda')
  await page.goto(`${server.url}sources/1/edit`)
  await page.getByLabel('Notes').fill('Mine, in ink.')
  await page.goto(server.url)
  const beside = await context.newPage()
  await beside.goto(`${server.url}sources/1/edit`)
  await offerOn(beside).waitFor()
  await beside.getByLabel('Notes').fill('Theirs, in pencil.')
  await beside.getByRole('button', { name: 'Save source' }).click()
  await beside.getByText('Saved.').waitFor()

  await page.goto(`${server.url}sources/1/edit`)
  const offer = offerOn(page)
  await offer.waitFor()
  expect(await offer.innerText()).toContain('Another version was saved since then.')
  // The same form in a second window: what is in hand in the first is not offered there once it is taken up.
  await offer.getByRole('button', { name: 'Put it back' }).click()
  await beside.goto(`${server.url}sources/1/edit`)
  await expectNoOffer(beside)
  await page.getByRole('button', { name: 'Save source' }).click()
  await page.getByRole('heading', { level: 1, name: 'Changed meanwhile' }).waitFor()
  expect(await page.locator('.theirs').innerText()).toBe('Theirs, in pencil.')
  await page.getByRole('button', { name: 'Save this' }).click()
  await page.getByText('Saved.').waitFor()
  expect(await page.locator('main').innerText()).toContain('Mine, in ink.')
  expect(await keptOn(page)).toEqual([])
  await context.close()
})

test('a session that ended loses nothing: sent, it can be sent again; left, it is offered after signing in', async () => {
  const { page, context, faults } = await openWindow(browser)
  await signIn(page, 'oda')
  await page.goto(`${server.url}originals/new`)
  await page.getByLabel('Name', { exact: false }).first().fill('Fret band')
  await context.clearCookies()
  await page.getByRole('button', { name: 'Save original' }).click()
  await page.getByRole('heading', { level: 1, name: 'You are signed out' }).waitFor()
  expect(await keptOn(page)).toHaveLength(1)
  // Not by the way that the page proposes, but as people do: somewhere else, and back to the form.
  await page.goto(`${server.url}originals/new`)
  expect(page.url()).toContain('sign-in?next=%2Foriginals%2Fnew')
  await signIn(page, 'oda')
  expect(page.url()).toBe(`${server.url}originals/new`)
  await offerOn(page).waitFor()
  expect(await offerOn(page).innerText()).toContain('You sent what you had typed here on')
  await offerOn(page).getByRole('button', { name: 'Put it back' }).click()
  await context.clearCookies()
  await page.getByRole('button', { name: 'Save original' }).click()
  const [tab] = await Promise.all([
    context.waitForEvent('page'),
    page.getByRole('link', { name: 'Sign in on another page' }).click(),
  ])
  await signIn(tab, 'oda')
  await page.getByRole('button', { name: 'Send it again' }).click()
  await page.getByRole('heading', { level: 1, name: 'Fret band' }).waitFor()
  expect(await keptOn(page)).toEqual([])
  expect(others(faults)).toEqual([])
  await context.close()
})

test('signing out takes all of it away, also what a second window still types; so does somebody else who signs in', async () => {
  const { page, context } = await openWindow(browser)
  await signIn(page, 'oda')
  const beside = await context.newPage()
  await beside.goto(`${server.url}pieces/new`)
  await beside.getByLabel('Notes').fill('Begun on Tuesday.')
  await beside.getByText('Kept on this device').waitFor()
  await page.goto(`${server.url}sources/new`)
  await page.getByLabel('Title').fill('Secret')
  await page.getByRole('button', { name: 'Sign out', exact: true }).click()
  await page.getByText('You are signed out.').waitFor()
  await beside.getByLabel('Notes').fill('Begun on Wednesday.')
  await beside.close()
  expect(await keptOn(page)).toEqual([])

  await signIn(page, 'oda')
  await page.goto(`${server.url}sources/new`)
  await page.getByLabel('Title').fill('Secret')
  await page.getByText('Kept on this device').waitFor()
  await context.clearCookies()
  await signIn(page, 'brand')
  expect(await keptOn(page)).toEqual([])
  await page.goto(`${server.url}sources/new`)
  await expectNoOffer(page)
  await context.close()
})

test('no password is kept; a browser without room says so once, below the form', async () => {
  const { page, context, faults } = await openWindow(browser)
  await signIn(page, 'oda')
  await page.goto(`${server.url}account`)
  await page.getByLabel('Present password').fill('quite another one')
  await page.getByLabel('Your name').fill('Oda of the moor')
  await page.getByText('Kept on this device').waitFor()
  await page.goto(server.url)
  const kept = await page.evaluate<string>('JSON.stringify(localStorage)')
  expect(kept).toContain('Oda of the moor')
  expect(kept).not.toContain('quite another one')

  await page.goto(`${server.url}sources/new`)
  await page.evaluate(`Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError') }`)
  await page.getByLabel('Title').fill('No room')
  await page.getByText('This browser has no room left to keep what you type').waitFor()
  expect(others(faults)).toEqual([])
  await context.close()
})
