import sharp from 'sharp'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Draft } from '../../shared/draft/draft.ts'
import { turningOf, writeTurning } from '../../shared/draft/turning.ts'
import { reportDraft } from '../../shared/draft/report.ts'
import { STRAIGHT } from '../../shared/observed/band-map.ts'
import { blockDraft, type Photograph, photograph } from '../observed/photograph.ts'
import { placeCorners } from '../observed/place-corners.ts'
import { expectAccessible, expectNoSidewaysScroll, openWindow } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { type Reached, startReached } from '../support/reach.ts'

const COLOURS = {
  m: { name: 'madder', hex: '#9c3b2e' },
  w: { name: 'undyed', hex: '#e9dfc8' },
  b: { name: 'woad', hex: '#2f4a6b' },
}
const [TABLETS, PICKS] = [8, 24]

/** The draft with two turns of one tablet exchanged: as it is soon woven by mistake, and right again after it. */
function misweave(draft: Draft): Draft {
  const turning = turningOf(draft)
  const turns = turning.turns.slice()
  for (let tablet = 2; tablet < TABLETS - 2; tablet++) {
    const pick = Array.from({ length: PICKS - 12 }, (_, at) => at + 6).find(
      (at) => turns[at * TABLETS + tablet]! * turns[(at + 1) * TABLETS + tablet]! < 0,
    )
    if (pick === undefined) continue
    turns[pick * TABLETS + tablet]! *= -1
    turns[(pick + 1) * TABLETS + tablet]! *= -1
  }
  return { ...draft, picks: writeTurning({ ...turning, turns }) }
}

/** A draft as the words of its form. */
const toForm = ({ title, colours, weft, tablets, picks }: Draft) => ({
  ...{ title, weft, turning: picks.join('\n'), written: 'own' },
  colours: Object.entries(colours)
    .map(([key, { name, hex }]) => `${key} ${name} ${hex}`)
    .join('\n'),
  threading: tablets
    .map(
      ({ threading, holes, start, part }) =>
        `${threading} ${holes.join(' ')} from ${start}${part === 'border' ? ' border' : ''}`,
    )
    .join('\n'),
})

let browser: Browser
let server: Reached
let photo: Photograph
let png: Buffer
const draft = { ...blockDraft(3, TABLETS, PICKS, COLOURS), title: 'Heron steps' }

beforeAll(async () => {
  server = await startReached()
  browser = await launchChromium()
  photo = photograph(misweave(draft), { seed: 3, cellPx: 14, blurPx: 1, noise: 4, light: 0.4, missing: 0.05 })
  const { width, height, data } = photo.pixels
  png = await sharp(Buffer.from(data), { raw: { width, height, channels: 4 } })
    .png()
    .toBuffer()
  // Sent by the browser: it alone knows the names and certificates of every mode.
  const { page, context } = await openWindow(browser)
  await page.goto(server.url)
  const post = (path: string, fields: Record<string, string>) =>
    page.evaluate(async ([to, sent]) => (await fetch(to, { method: 'POST', body: new URLSearchParams(sent) })).url, [
      server.url + path,
      fields,
    ] as const)
  const made = [
    await post('drafts', toForm(draft)),
    await post('pieces', { name: 'Heron band, first weaving', revision: '1', plannedOn: '2026-01-01' }),
  ]
  expect(made.map((url) => new URL(url).search)).toEqual(['?done=saved', '?done=saved'])
  await context.close()
}, 120_000)
afterAll(async () => {
  await browser.close()
  await server.stop()
})

async function readPhotograph(page: Page): Promise<void> {
  await page.locator('[data-file]').setInputFiles({ name: 'band.png', mimeType: 'image/png', buffer: png })
  await page.getByText(/band\.png: \d+ × \d+ pixels/).waitFor()
  await placeCorners(page, photo.corners)
  await page.getByRole('button', { name: 'Count by the rhythm of the picture' }).click()
  await page.getByRole('button', { name: /^Take 8:/ }).click()
  await page.getByRole('button', { name: /^Take 24:/ }).click()
  await page.getByLabel('How many colours').fill('3')
  await page.getByRole('button', { name: 'Read the cells' }).click()
  await page.getByText(/cells are legible/).waitFor()
}

/** A face of the photograph as it was kept once, with one cell that somebody set: pick 1, tablet 1. */
async function keepFace(page: Page): Promise<string> {
  await page.goto(`${server.url}pieces/1/photos/new`)
  await page.locator('#f-photo').setInputFiles({ name: 'band.png', mimeType: 'image/png', buffer: png })
  await page.getByLabel('What is seen').fill('The band from above')
  await page.getByRole('button', { name: 'Add photograph' }).click()
  await page.waitForURL(/done=saved/)
  const cells = reportDraft(misweave(draft)).face.map((row) => row.map((key) => key ?? '.'))
  cells[0]![0] = cells[0]![0] === 'w' ? 'm' : 'w'
  const { width, height } = photo.pixels
  const fields = {
    ...{ colours: toForm(draft).colours, observed: cells.map((row) => row.join(' ')).join('\n'), note: 'Kept once' },
    ...{ photo: '1', observedOn: '2026-01-02', observedBy: 'R. Oss', revision: '1' },
    marks: JSON.stringify({ corners: photo.corners, bend: STRAIGHT, tablets: TABLETS, picks: PICKS, width, height }),
  }
  return page.evaluate(
    async ([to, sent]) => (await fetch(to, { method: 'POST', body: new URLSearchParams(sent) })).url,
    [`${server.url}pieces/1/observed`, fields] as const,
  )
}

describe('/observed/new', () => {
  test('a photograph goes in, its cells are read and put right, kept with the piece, and what was woven wrong is told, and a draft comes out', async () => {
    const { page, context, faults } = await openWindow(browser)
    const sent: string[] = []
    page.on('request', (request) => {
      if (request.method() === 'POST') sent.push(request.postData() ?? '')
    })
    await page.goto(`${server.url}observed/new?piece=1`)
    await readPhotograph(page)
    expect(sent).toEqual([])
    await expectAccessible(page)
    const observed = page.getByLabel('The face, cell by cell')
    const rows = (await observed.inputValue()).split('\n')
    expect(rows).toHaveLength(PICKS)
    // By keys: pick 1, tablet 1 is set, taken for not legible, and given back to what was read.
    const face = page.getByRole('application')
    await face.focus()
    await page.keyboard.press('w')
    expect((await observed.inputValue())[0]).toBe('w')
    await page.getByText(/Pick 1, tablet 1: undyed \(set by you/).waitFor()
    await page.keyboard.press('.')
    expect((await observed.inputValue())[0]).toBe('.')
    await page.keyboard.press('Backspace')
    expect((await observed.inputValue()).split('\n')).toEqual(rows)
    expect(await page.getByLabel('Colours seen').inputValue()).toMatch(/m madder #[0-9a-f]{6}/)
    await page.getByLabel('What it shows').fill('The whole repeat')
    await page.getByRole('button', { name: 'Keep it with this piece' }).click()
    await page.getByRole('heading', { level: 1, name: /The whole repeat, seen on/ }).waitFor()
    const verdict = await page.locator('.lead').innerText()
    expect(verdict).toMatch(/^\d+ of 1\d\d legible cells differ from Heron steps, revision 1: [\d.]+ per 1,000\.$/)
    await expectAccessible(page)
    expect(await page.locator('tbody tr').count()).toBe(Number(verdict.split(' ')[0]))
    await page.goto(`${server.url}pieces/1`)
    await page.getByText(verdict).waitFor()
    await page.getByRole('link', { name: /The whole repeat, seen on/ }).click()
    await page.getByRole('button', { name: 'Work out a draft' }).click()
    await page.getByRole('heading', { name: 'What was worked out' }).waitFor()
    await page.getByRole('button', { name: 'Keep as a draft' }).click()
    await page.getByText('8 tablets', { exact: false }).first().waitFor()
    expect(page.url()).toMatch(/drafts\/2\?done=saved$/)
    expect(faults).toEqual([])
    await context.close()
  }, 120_000)

  test('?again= opens a kept face with its cells as they were set, and keeps them in a face of its own', async () => {
    const { page, context, faults } = await openWindow(browser)
    const kept = await keepFace(page)
    await page.goto(kept)
    const before = await page.locator('.observed-text pre').textContent()
    await page.getByRole('img', { name: 'The stretch that was read, with woven errors outlined' }).waitFor()
    await expectAccessible(page)
    await page.getByRole('link', { name: 'Read it again' }).click()
    await page.getByText(/cells are legible\. \d+ set by you/).waitFor()
    await page.getByText(/No slants were read: S and Z are a guess/).waitFor()
    await page.getByRole('application').focus()
    await page.getByText(/Pick 1, tablet 1: .+ \(set by you; read: /).waitFor()
    await expectAccessible(page)
    await page.getByLabel('What it shows').fill('Read again')
    await page.getByRole('button', { name: 'Keep it with this piece' }).click()
    await page.getByRole('heading', { level: 1, name: /^Read again/ }).waitFor()
    expect(new URL(page.url()).pathname).not.toBe(new URL(kept).pathname)
    expect(await page.locator('.observed-text pre').textContent()).toBe(before)
    expect(faults).toEqual([])
    await context.close()
  }, 120_000)

  test('on a phone, in the dark, it is all there', async () => {
    const { page, context, faults } = await openWindow(browser, { width: 360, scheme: 'dark' })
    await page.goto(`${server.url}observed/new?piece=1`)
    await readPhotograph(page)
    await page.getByText('Lengths, where there is a scale').click()
    await page.getByLabel('S1 to S2, mm').fill('20')
    await page.getByText(/Stretch [\d.]+ mm long \(u = [\d.]+ mm\)/).waitFor()
    await expectAccessible(page)
    await expectNoSidewaysScroll(page)
    expect(faults).toEqual([])
    await context.close()
  }, 120_000)

  test('without script says what is needed, and keeps what is typed', async () => {
    const { page, context } = await openWindow(browser, { script: false })
    await page.goto(`${server.url}observed/new?piece=1`)
    await page.getByText(/needs a script in your browser/).waitFor()
    await page.getByLabel('Colours seen').fill('m madder #9c3b2e\nw undyed #e9dfc8')
    await page.getByLabel('The face, cell by cell').fill('m w q\nm w')
    await page.getByLabel('Compare with').selectOption('')
    await page.getByRole('button', { name: 'Keep it with this piece' }).click()
    await page
      .getByText(/no colour has this key/)
      .first()
      .waitFor()
    expect(await page.getByLabel('The face, cell by cell').inputValue()).toBe('m w q\nm w')
    await page.getByLabel('The face, cell by cell').fill('m w m\nm . w')
    await page.getByRole('button', { name: 'Keep it with this piece' }).click()
    await page.getByText('3 tablets, 2 picks; 5 of 6 cells legible').waitFor()
    await context.close()
  })
})
