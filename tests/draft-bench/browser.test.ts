import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { Draft } from '../../shared/draft/draft.ts'
import { PICK_UNITS } from '../../shared/draft/picture/stitch-shape.ts'
import { expectAccessible, expectNoSidewaysScroll, openWindow } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { startReached, type Reached } from '../support/reach.ts'

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

/** Lays out a new draft; the window stands at its bench. */
async function begin(page: Page, tablets: number, picks: number): Promise<string> {
  await page.goto(`${server.url}drafts/new/bench`)
  await page.getByLabel('Title').fill('Fen band')
  await page.getByLabel('Tablets').fill(String(tablets))
  await page.getByLabel('Picks in the repeat').fill(String(picks))
  await page.getByRole('button', { name: 'Lay it out' }).click()
  await page.locator('[role="grid"]').waitFor()
  return page.url()
}

/** What the server keeps: it is asked until it is so. */
async function kept(page: Page): Promise<{ document: Draft; version: number; newest: number }> {
  return page.evaluate<never>(`fetch('${page.url().replace(/[?#].*/, '')}/copy.json').then((answer) => answer.json())`)
}
const expectKept = (page: Page, picks: readonly string[]) =>
  expect.poll(async () => (await kept(page)).document.picks, { timeout: 6000 }).toEqual(picks)

/** The middle of a turn in one of the pictures, in the window. */
async function turnAt(page: Page, pane: number, tablet: number, pick: number): Promise<{ x: number; y: number }> {
  const cloth = page.locator('.bench-cloth').nth(pane)
  await page.evaluate(
    `scrollBy(0, document.querySelectorAll('.bench-cloth')[${pane}].getBoundingClientRect().top - 80)`,
  )
  const box = (await cloth.boundingBox())!
  const cell = (await page.locator('#bench-cell-0, #bench-cell-1').filter({ visible: true }).first().boundingBox())!
  return { x: box.x + (pick - 0.5) * cell.width, y: box.y + (tablet - 0.5) * cell.height }
}

/** Along which edge, left and right, the weft loops from each of the picks 1 to 5 to the next. */
const loopsOn = (page: Page) =>
  page.evaluate<boolean[][]>(`['left', 'right'].map((side) => {
    const canvas = document.querySelector('.bench-edge-' + side)
    const pickPx = document.querySelector('.bench-cursor:not([hidden])').getBoundingClientRect().width
    const { data, width, height } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height)
    return [1, 2, 3, 4, 5].map((pick) => {
      const x = Math.round((pick + 0.5) * pickPx)
      return Array.from({ length: height }, (_, y) => data[(y * width + x) * 4 + 3]).some((alpha) => alpha > 0)
    })
  })`)

function loopsIn(svg: string): boolean[][] {
  const d = /<path id="[^"]*-w"[^>]* d="([^"]+)"/.exec(svg)![1]!
  const loops = [...d.matchAll(/M([\d.]+) ([\d.]+)c/g)].map(([, edge, along]) => [Number(edge), Number(along)] as const)
  const right = Math.max(...loops.map(([edge]) => edge))
  const hasLoop = (at: number, pick: number) =>
    loops.some(([edge, along]) => edge === at && along === pick * PICK_UNITS)
  return [0, right].map((at) => [1, 2, 3, 4, 5].map((pick) => hasLoop(at, pick)))
}

describe('/drafts/:id/bench by keyboard alone', () => {
  test('moves, marks, paints, takes back, keeps the working copy over a reload, and keeps a revision', async () => {
    const { page, context, faults } = await openWindow(browser)
    await begin(page, 4, 6)
    const svg = await page.evaluate<string>(
      `fetch('${page.url().replace(/bench$/, '')}revisions/1/face.svg').then((answer) => answer.text())`,
    )
    await expect.poll(() => loopsOn(page)).toEqual(loopsIn(svg))
    await page.getByRole('radio', { name: 'B, paint back' }).focus()
    await page.keyboard.press('Space')
    await page.locator('[role="grid"]').focus()
    for (const key of ['ArrowDown', 'ArrowRight', 'Shift+ArrowDown', 'Shift+End']) await page.keyboard.press(key)
    await page.getByText('Marked: tablets 2, 3, picks 2 to 6, 10 turns.').waitFor()
    await page.keyboard.press('Space')
    const painted = ['4F', ...Array<string>(5).fill('1F 2B 1F')]
    await expectKept(page, painted)
    expect(await page.locator('[role="gridcell"]').filter({ visible: true }).getAttribute('aria-label')).toBe(
      'Tablet 3, pick 6: back, hole A, madder',
    )
    await page.keyboard.press('Control+z')
    await expectKept(page, Array<string>(6).fill('4F'))
    await page.keyboard.press('Control+Shift+z')
    await page.keyboard.press('Control+Home')
    await page.keyboard.press('Enter')
    await expectKept(page, ['1B 3F', ...painted.slice(1)])
    // Letters do nothing until they are switched on.
    await page.keyboard.press('i')
    await page.getByRole('checkbox', { name: 'Letter keys F, B, I on the band' }).check()
    await page.locator('[role="grid"]').focus()
    await page.keyboard.press('ArrowRight')
    await page.keyboard.press('i')
    await expectKept(page, ['1B 3F', '1I 2B 1F', ...painted.slice(2)])

    await page.reload()
    await page.getByText('it is no revision yet.').waitFor()
    await page.getByText('Tablet 1, pick 1: back, hole D, undyed.').waitFor()
    await page.getByLabel('What changed').fill('by keyboard')
    await page.getByRole('button', { name: 'Keep as a revision' }).focus()
    await page.keyboard.press('Enter')
    await page.getByText('Saved as a new revision').waitFor()
    await page.getByText('by keyboard').waitFor()
    expect(faults).toEqual([])
    await context.close()
  })
})

describe('/drafts/:id/bench by pointer and by buttons', () => {
  test('a drag paints one stroke, whole packs together; buttons change blocks, tablets, text, twist and colours', async () => {
    const { page, context, faults } = await openWindow(browser)
    await begin(page, 6, 8)
    await page.locator('.bench-brush label').filter({ hasText: /^B$/ }).click()
    const [from, to] = [await turnAt(page, 0, 2, 2), await turnAt(page, 0, 2, 5)]
    await page.mouse.move(from.x, from.y)
    await page.mouse.down()
    await page.mouse.move(to.x, to.y, { steps: 3 })
    await page.mouse.up()
    const stroke = ['6F', ...Array<string>(4).fill('1F 1B 4F'), '6F', '6F', '6F']
    await expectKept(page, stroke)
    // One stroke is one thing to take back; on the picture of the turns it is painted too, whole packs at once.
    await page.getByRole('button', { name: 'Undo', exact: true }).click()
    await expectKept(page, Array<string>(8).fill('6F'))
    await page.getByRole('button', { name: 'Redo' }).click()
    await page.getByLabel('Whole packs').check()
    const other = await turnAt(page, 2, 3, 8)
    await page.mouse.click(other.x, other.y)
    await expectKept(page, [...stroke.slice(0, 7), '1B 1F 4B'])

    await page.getByRole('textbox', { name: 'Tablets', exact: true }).fill('1-2')
    await page.getByLabel('Picks', { exact: true }).fill('1-4')
    await page.getByRole('button', { name: 'Mark these' }).click()
    await page.getByRole('button', { name: 'Add their mirror' }).click()
    await page.getByText('8 tablets, 8 picks').waitFor()
    await page.getByRole('button', { name: 'Undo', exact: true }).click()
    await page.getByLabel('Hole A').selectOption('w')
    await expect.poll(async () => (await kept(page)).document.tablets[1]!.holes[0], { timeout: 6000 }).toBe('w')

    await page.getByRole('button', { name: 'All tablets' }).click()
    const text = page.getByLabel('Its picks as text')
    await expect.poll(() => text.inputValue()).toBe(stroke.slice(0, 4).join('\n'))
    await text.fill('5F')
    await page.getByRole('button', { name: 'Take these lines' }).first().click()
    await page.getByText('Pick 1: 5 tablets found, 6 needed.').waitFor()
    await text.fill('6B x2')
    await page.getByRole('button', { name: 'Take these lines' }).first().click()
    await expectKept(page, ['6B', '6B', '1F 1B 4F', '6F', '6F', '1B 1F 4B'])

    await page.getByRole('button', { name: 'Undo the twist of this block …' }).click()
    await page.getByText('2 picks are added after the block, in all tablets').waitFor()
    expect((await kept(page)).document.picks).toHaveLength(6)
    await page.getByRole('button', { name: 'Weave it back' }).last().click()
    await expectKept(page, ['6B', '6B', '6F', '6F', '1F 1B 4F', '6F', '6F', '1B 1F 4B'])

    await page.getByLabel('Try another colour for w').fill('#9a3c30')
    await page.getByText('tried; the draft has #e9dfc8').waitFor()
    await page.getByText('Under 12 the pattern is hard to read').waitFor()
    expect((await kept(page)).document.colours.w!.hex).toBe('#e9dfc8')
    await page.getByRole('button', { name: 'Take the tried colours over' }).click()
    await expect.poll(async () => (await kept(page)).document.colours.w!.hex, { timeout: 6000 }).toBe('#9a3c30')
    expect(faults).toEqual([])
    await context.close()
  })
})

test('/drafts/:id/bench loses nothing typed, says what is typed wrong, and leaves the keyboard where it was', async () => {
  const { page, context, faults } = await openWindow(browser)
  await begin(page, 4, 6)
  const told = page.locator('[data-bench-told]')
  const mark = async (tablets: string) => {
    await page.getByRole('textbox', { name: 'Tablets', exact: true }).fill(tablets)
    await page.getByRole('button', { name: 'Mark these' }).click()
  }
  // Lines that are typed stay while another place is marked, and go in where one is then.
  const lines = page.getByLabel('Its picks as text')
  await lines.fill('1B 3F')
  await mark('1, 4')
  await page.getByText('Typed, not taken yet').first().waitFor()
  expect(await lines.inputValue()).toBe('1B 3F')
  await page.getByRole('button', { name: 'Put back what is marked' }).click()
  expect(await lines.inputValue()).toBe('4F')
  await page.getByText('Typed, not taken yet').first().waitFor({ state: 'hidden' })
  // Tablets 2 and 3 lie between the marked ones and are not marked.
  await page.getByRole('button', { name: 'Take out tablets' }).click()
  await expect
    .poll(() => told.textContent())
    .toBe('The marked tablets do not lie side by side. Mark a run of neighbours for this.')
  await page.getByLabel('Times').first().fill('two')
  await page.getByRole('button', { name: 'Repeat picks' }).click()
  await expect.poll(() => told.textContent()).toBe('How many times? Type a whole number from 1.')
  await page.getByLabel('A pick, mm').fill('wide')
  await page.getByLabel('A pick, mm').press('Enter')
  await page.getByText('A tablet and a pick are from 0.1 to 20 mm.').waitFor()
  expect(await page.getByLabel('A pick, mm').getAttribute('aria-invalid')).toBe('true')
  await page.getByLabel('A pick, mm').fill('1')
  await page.getByLabel('A pick, mm').press('Enter')
  await page.getByText('A tablet and a pick are from').waitFor({ state: 'hidden' })
  // A field that the keyboard stands in follows what is taken back, and so do the colours.
  await mark('2')
  const threading = page.locator('select[name="threading"]')
  await expect.poll(() => threading.inputValue()).toMatch(/^[SZ]$/)
  const before = await threading.inputValue()
  await threading.selectOption(before === 'S' ? 'Z' : 'S')
  await threading.press('Control+z')
  await expect.poll(() => threading.inputValue()).toBe(before)
  expect(await page.evaluate<string>('document.activeElement.name')).toBe('threading')
  const weft = page.getByRole('radio', { name: 'Weft in colour w' })
  await weft.check()
  await expect.poll(() => told.textContent()).toMatch(/^Done: /)
  expect(await page.evaluate<string>('document.activeElement.ariaLabel')).toBe('Weft in colour w')
  expect(faults).toEqual([])
  await context.close()
})

test('/drafts/:id/bench by finger: a tap paints or marks, two taps mark a block', async () => {
  const { page, context } = await openWindow(browser, { width: 360, touch: true })
  await begin(page, 6, 12)
  await expectNoSidewaysScroll(page)
  const tap = async (tablet: number, pick: number) => {
    const { x, y } = await turnAt(page, 0, tablet, pick)
    await page.touchscreen.tap(x, y)
  }
  await tap(2, 2)
  await page.getByRole('button', { name: 'Mark from here' }).tap()
  await tap(4, 3)
  await page.getByRole('button', { name: 'to here' }).tap()
  await page.getByRole('button', { name: 'Back', exact: true }).tap()
  await expectKept(page, ['6F', '1F 3B 2F', '1F 3B 2F', ...Array<string>(9).fill('6F')])
  await page.locator('.bench-brush label').filter({ hasText: /^I$/ }).tap()
  await tap(1, 1)
  await expectKept(page, ['1I 5F', '1F 3B 2F', '1F 3B 2F', ...Array<string>(9).fill('6F')])
  await context.close()
})

describe('the working copy', () => {
  test('in two windows: neither writes over the other, and both stay in reach', async () => {
    const { page, context, faults } = await openWindow(browser)
    const address = await begin(page, 4, 3)
    const other = await context.newPage()
    await other.goto(address)
    await other.locator('[role="grid"]').focus()
    await other.keyboard.press('Enter')
    await expectKept(page, ['1B 3F', '4F', '4F'])
    await page.locator('[role="grid"]').focus()
    await page.keyboard.press('End')
    await page.keyboard.press('Enter')
    await page.getByText('Another window of yours has gone on').waitFor()
    expect((await kept(page)).document.picks).toEqual(['1B 3F', '4F', '4F'])
    await page.getByRole('button', { name: 'Go on with this one' }).click()
    await expectKept(page, ['4F', '4F', '1B 3F'])
    await page.getByRole('button', { name: 'Redo' }).click()
    await expectKept(page, ['1B 3F', '4F', '4F'])
    // Chromium says in its console that the first answer was a 409.
    expect(faults.filter((fault) => !fault.includes('409'))).toEqual([])
    await context.close()
  })

  test('stays in the browser while the notebook is away, is offered on return, and may be thrown away', async () => {
    const { page, context } = await openWindow(browser)
    const address = await begin(page, 4, 3)
    await context.route('**/bench/copy', (route) => route.abort())
    await page.locator('[role="grid"]').focus()
    await page.keyboard.press('Enter')
    await page.getByText('The notebook cannot be reached. It is kept in this browser').waitFor()
    await page.goto(server.url)
    await context.unroute('**/bench/copy')
    await page.goto(address)
    // Who goes on without an answer is asked again: the copy stays although another was kept meanwhile.
    await page.getByText('a copy of').waitFor()
    await page.locator('[role="grid"]').focus()
    await page.keyboard.press('End')
    await page.keyboard.press('Enter')
    await expectKept(page, ['4F', '4F', '1B 3F'])
    await page.reload()
    await page.getByRole('button', { name: 'Take it up' }).click()
    await expectKept(page, ['1B 3F', '4F', '4F'])
    await page.reload()
    await page.getByRole('button', { name: 'Throw the working copy away' }).click()
    await page.getByText('The working copy is thrown away.').waitFor()
    await expectKept(page, ['4F', '4F', '4F'])
    await context.close()
  })

  test('meets a revision that came meanwhile: it is told, and both are kept', async () => {
    const { page, context } = await openWindow(browser)
    const address = await begin(page, 4, 3)
    await page.locator('[role="grid"]').focus()
    await page.keyboard.press('Enter')
    await expectKept(page, ['1B 3F', '4F', '4F'])
    const form = await context.newPage()
    await form.goto(address.replace(/bench$/, 'edit'))
    await form.getByLabel('Turning').fill('4B x3')
    await form.getByRole('button', { name: 'Save as new revision' }).click()
    await form.getByText('Saved as a new revision').waitFor()
    await page.getByRole('button', { name: 'Keep as a revision' }).click()
    await page.getByText('saving once more keeps yours as revision 3').waitFor()
    await page.getByRole('button', { name: 'Keep as a revision' }).click()
    await page.getByText('Draft, revision 3 of 3').waitFor()
    await context.close()
  })
})

describe('the picture on the bench', () => {
  test('of 60 x 200 shows in every sampled stitch what the SVG picture of the revision shows, also after a repaint', async () => {
    const { page, context, faults } = await openWindow(browser)
    const address = await begin(page, 60, 200)
    await page.getByLabel('Drawn', { exact: true }).fill('1')
    await page.getByLabel('Drawn', { exact: true }).press('Enter')
    await page.locator('.bench-brush label').filter({ hasText: /^B$/ }).click()
    const [from, to] = [await turnAt(page, 0, 5, 20), await turnAt(page, 0, 50, 90)]
    await page.mouse.move(from.x, from.y)
    await page.mouse.down()
    await page.mouse.move(to.x, to.y, { steps: 30 })
    await page.mouse.up()
    await expect.poll(async () => (await kept(page)).version, { timeout: 6000 }).toBeGreaterThan(0)
    await page.waitForTimeout(100)
    const seen = await page.evaluate<string>(`(${SAMPLE_CANVAS})([60, 200])`)
    await page.getByRole('button', { name: 'Keep as a revision' }).click()
    await page.getByText('Saved as a new revision').waitFor()
    const svg = `${address.replace(/bench$/, '')}revisions/2/face.svg?lie=across&lengthMm=180`
    const drawn = await page.evaluate<string>(`(${SAMPLE_SVG})(['${svg}', 60, 200])`)
    const [canvas, picture] = [JSON.parse(seen) as number[][], JSON.parse(drawn) as number[][]]
    expect(canvas).toHaveLength(60 * 200)
    // The two are drawn at different scales, so a stitch of six dots differs a little where threads meet; madder and
    // undyed lie 164 apart in blue, so a wrong thread would differ by far more.
    const apart = canvas.map((rgb, at) => Math.max(...rgb.map((value, i) => Math.abs(value - picture[at]![i]!))))
    expect(Math.max(...apart)).toBeLessThan(80)
    expect(apart.reduce((sum, one) => sum + one, 0) / apart.length).toBeLessThan(16)
    expect(new Set(canvas.map(([red]) => (red! > 160 ? 'light' : 'dark'))).size).toBe(2)
    expect(faults).toEqual([])
    await context.close()
  })

  test.each([
    { width: 1280, scheme: 'light' as const },
    { width: 360, scheme: 'dark' as const },
  ])('is accessible and never scrolls sideways at $width px, $scheme', { timeout: 60_000 }, async (reader) => {
    const { page, context, faults } = await openWindow(browser, reader)
    await begin(page, 12, 24)
    await expectAccessible(page)
    await page.getByRole('button', { name: 'All picks' }).click()
    await page.getByRole('button', { name: 'Undo the twist of this block …' }).click()
    await page.getByRole('button', { name: 'Turn its end the other way' }).waitFor()
    await expectAccessible(page)
    await expectNoSidewaysScroll(page)
    expect(faults).toEqual([])
    await context.close()
  })

  test('of a longer draft is looked over beside the page', async () => {
    const { page, context, faults } = await openWindow(browser)
    await begin(page, 150, 150)
    const checks = page.locator('[data-bench-checks]')
    await checks.getByText('150 quarter turns forward each repeat').waitFor()
    await page.locator('[role="grid"]').focus()
    await page.keyboard.press('Enter')
    await checks.getByText('148 quarter turns').waitFor()
    expect(faults).toEqual([])
    await context.close()
  })

  test('without script there is the band, and the way to the form', async () => {
    const { page, context } = await openWindow(browser, { script: false })
    await page.goto(`${server.url}drafts/1/bench`)
    await page.getByRole('link', { name: 'Change it by form' }).click()
    await page.getByLabel('Turning').waitFor()
    await context.close()
  })
})

/** The mean colour of the middle of every stitch, from a canvas of `width` x `height` dots that holds the band. */
const MEANS = `
function means(context, width, height, tablets, picks, left) {
  const data = context.getImageData(0, 0, width, height).data
  const found = []
  for (let pick = 0; pick < picks; pick++) for (let tablet = 0; tablet < tablets; tablet++) {
    const x = (pick + 0.5) * (width / picks), y = left + (tablet + 0.5) * ((height - 2 * left) / tablets)
    const sum = [0, 0, 0]
    let n = 0
    const [rx, ry] = [width / picks / 4, (height - 2 * left) / tablets / 4]
    for (let v = Math.floor(y - ry); v <= y + ry; v++) for (let u = Math.floor(x - rx); u <= x + rx; u++) {
      const at = (v * width + u) * 4
      for (let i = 0; i < 3; i++) sum[i] += data[at + i]
      n++
    }
    found.push(sum.map((one) => Math.round(one / n)))
  }
  return JSON.stringify(found)
}`
const SAMPLE_CANVAS = `([tablets, picks]) => { ${MEANS}
  const canvas = document.querySelector('.bench-canvas')
  const context = canvas.getContext('2d')
  const band = Math.round(picks * (canvas.getBoundingClientRect().height / tablets) * 0.9)
  return means({ getImageData: () => context.getImageData(0, 0, band, canvas.height) }, band, canvas.height, tablets, picks, 0)
}`
const SAMPLE_SVG = `async ([address, tablets, picks]) => { ${MEANS}
  const image = new Image()
  image.src = address
  await image.decode()
  const canvas = document.createElement('canvas')
  canvas.width = picks * 12
  canvas.height = Math.round((canvas.width * image.naturalHeight) / image.naturalWidth)
  const context = canvas.getContext('2d')
  context.drawImage(image, 0, 0, canvas.width, canvas.height)
  const loop = (0.22 * 0.9 / 180) * canvas.width
  return means(context, canvas.width, canvas.height, tablets, picks, loop)
}`
