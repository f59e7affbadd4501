import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openWindow } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { startReached, type Reached } from '../support/reach.ts'
import { LADDER } from '../plan/facts.ts'

let browser: Browser
let first: Reached
let second: Reached | undefined
beforeAll(async () => {
  first = await startReached()
  browser = await launchChromium()
}, 120_000)
afterAll(async () => {
  await browser.close()
  await first.stop()
  await second?.stop()
})

/** What has the focus, by the name that a screen reader says. */
const FOCUSED = `(() => {
  const node = document.activeElement
  const label = node?.labels?.[0]?.textContent ?? node?.getAttribute('aria-label') ?? node?.textContent ?? ''
  return label.replace(/\\s+/g, ' ').trim()
})()`

/** By the Tab key alone, until what has the focus is called so. */
async function tabTo(page: Page, name: string | RegExp): Promise<void> {
  for (let tabs = 0; tabs < 150; tabs += 1) {
    await page.keyboard.press('Tab')
    const focused = await page.evaluate<string>(FOCUSED)
    if (typeof name === 'string' ? focused.startsWith(name) : name.test(focused)) return
  }
  throw new Error(`By the keyboard, nothing called ${String(name)} is reached on ${page.url()}`)
}

async function type(page: Page, name: string, text: string): Promise<void> {
  await tabTo(page, name)
  await page.keyboard.press('Control+A')
  await page.keyboard.type(text)
}

async function press(page: Page, name: string | RegExp, expected: RegExp): Promise<void> {
  await tabTo(page, name)
  await Promise.all([page.waitForURL(expected), page.keyboard.press('Enter')])
}

/** A draft and a piece to weave it; the pages of both are tested by themselves. */
async function makePiece(page: Page, url: string): Promise<void> {
  const headers = { Origin: new URL(url).origin }
  const draft = { colours: 'm madder #9c3b2e\nw undyed #e9dfc8', weft: 'm', turning: LADDER.picks.join('\n') }
  const threading = LADDER.tablets.map(({ threading: way, holes, part }) =>
    `${way} ${holes.join(' ')} ${part === 'border' ? 'border' : ''}`.trim(),
  )
  const form = { title: 'Ladder', original: '', notes: '', threading: threading.join('\n'), ...draft }
  const made = await page.request.post(`${url}drafts`, { headers, form, maxRedirects: 0 })
  expect([made.status(), (await made.text()).slice(0, 200)]).toEqual([303, expect.anything()])
  const piece = await page.request.post(`${url}pieces`, {
    headers,
    form: { name: 'Ferry belt', maker: '', revision: '1' },
    maxRedirects: 0,
  })
  expect(piece.status()).toBe(303)
}

test('by the keyboard alone: a yarn, its lots, bought, dyed, planned, reserved, ticked, settled and corrected', async () => {
  const { page, context, faults } = await openWindow(browser)
  const { url } = first
  await makePiece(page, url)
  await page.goto(`${url}yarns`)
  await press(page, 'Add a yarn', /yarns\/new$/)
  await type(page, 'Name', 'Fen worsted')
  await type(page, 'Fibres', 'wool')
  await type(page, 'Count', 'Nm 28/2')
  await press(page, 'Save yarn', /yarns\/1\?done=saved$/)
  expect(await page.getByText('wool 1.31 g/cm³ (Morton and Hearle').isVisible()).toBe(true)

  await press(page, 'Add a lot', /lots\/new$/)
  await type(page, 'Colour', 'undyed')
  await press(page, 'Save lot', /lots\/1\?done=saved$/)
  // The second one is no other form.
  await page.request.post(`${url}yarns/1/lots`, {
    headers: { Origin: new URL(url).origin },
    form: { colourName: 'madder', priceFor: '' },
  })
  await press(page, 'Bought', /do=bought/)
  await type(page, 'How much, g', '250')
  await press(page, 'Enter: Bought', /done=entered/)
  await press(page, 'Dyed', /do=dyed/)
  await type(page, 'How much, g', '120')
  await tabTo(page, 'Into which lot')
  await page.keyboard.type('Fen')
  await type(page, 'Weight after dyeing', '116,5')
  await press(page, 'Enter: Dyed', /done=entered/)
  await page.goto(`${url}yarns`)
  expect((await page.locator('.shelf tbody').textContent())!.replace(/\s+/g, ' ')).toMatch(
    /madder.*116\.5.*undyed.*130/,
  )

  await page.goto(`${url}pieces/1/plan`)
  await type(page, 'Woven length in cm', '100')
  for (const [part, lot] of [
    ['Warp, madder', 'Fen worsted, m'],
    ['Warp, undyed', 'Fen worsted, u'],
    ['Weft', 'Fen worsted, m'],
  ] as const) {
    await tabTo(page, part)
    await page.keyboard.type(lot)
  }
  await type(page, 'Picks per cm', '8')
  await type(page, 'Width in mm', '12')
  await page.waitForFunction(`document.querySelector('[data-figure="warpLength"]').textContent.includes('100 cm')`)
  await press(page, 'Keep the plan', /done=saved/)
  await press(page, /^Reserve/, /done=reserved/)
  expect(await page.getByText('That is what the plan as it is kept needs.').isVisible()).toBe(true)
  const enough = (await page.locator('[data-rows="needs"]').textContent())!
  expect(enough).toContain('enough')

  await press(page, 'Threading check-list', /threading$/)
  await tabTo(page, /^1 |^Tablet 1|from the/)
  await page.keyboard.press('Space')
  await page.getByText('Kept.').waitFor()
  expect(await page.locator('[data-done]').textContent()).toBe('1')

  await page.goto(`${url}pieces/1/settle`)
  await type(page, 'Fen worsted, madder, used', '12')
  await type(page, 'Fen worsted, undyed, used', '5')
  await press(page, 'Settle', /done=settled/)
  expect(await page.getByText('Nothing is reserved for this piece any more.').isVisible()).toBe(true)
  expect(await page.getByText('warp and weft of one lot are parted as they were planned').isVisible()).toBe(true)

  await page.goto(`${url}lots/1`)
  await press(page, /^Correct entry \d+ Bought/, /correct$/)
  await type(page, 'It should have said, g', '240')
  await type(page, 'What was wrong', 'The tare was in it')
  await press(page, 'Enter the correction', /done=entered/)
  // 240 bought, 120 dyed, 5 used.
  expect(await page.locator('.lot-balance').textContent()).toContain('115 g')
  expect(faults).toEqual([])
  await context.close()
}, 240_000)

test('without script: the shelf goes out as a table and comes into another notebook, looked at first', async () => {
  second = await startReached()
  const { page, context } = await openWindow(browser, { script: false, width: 360 })
  const table = await (await page.request.get(`${first.url}yarns/lots.csv`)).text()
  await page.goto(`${second.url}yarns/import`)
  await page.getByLabel('Table').fill(table.replace(/^\uFEFF/, ''))
  await page.getByRole('button', { name: 'Look at it' }).click()
  expect(await page.getByText('Nothing is kept yet.').isVisible()).toBe(true)
  await page.getByRole('button', { name: 'Put them on the shelf' }).click()
  await page.getByText('The lots of the table are on your shelf.').waitFor()
  // Without script and on a phone the figures stand beside their headings.
  const cells = await page.evaluate<string[]>(
    `[...document.querySelectorAll('.shelf tbody td[data-label]')].map((node) => node.innerText.trim())`,
  )
  expect(cells).toHaveLength(6)
  expect(cells.every((text) => /^[\d.]+$/.test(text))).toBe(true)
  const again = await (await page.request.get(`${second.url}yarns/lots.csv`)).text()
  expect(again).toBe(table)
  await context.close()
}, 120_000)
