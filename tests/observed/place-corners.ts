import type { Page } from 'playwright-core'
import type { Corners, Point } from '../../shared/observed/homography.ts'

const HANDLES = { SL: 'startLeft', SR: 'startRight', ER: 'endRight', EL: 'endLeft' } as const

/** Drags each corner's handle to its place in the picture, and goes the last pixels by keys, as a person would. */
export async function placeCorners(page: Page, corners: Corners): Promise<void> {
  for (const [name, corner] of Object.entries(HANDLES)) await placeHandle(page, name, corners[corner])
}

export async function placeHandle(page: Page, name: string, at: Point): Promise<void> {
  const canvas = page.locator('[data-canvas]')
  const handle = page.locator(`[data-handle="${name}"]`)
  await handle.scrollIntoViewIfNeeded()
  const box = (await handle.boundingBox())!
  const from = { x: box.x + box.width / 2, y: box.y + box.height / 2 }
  const picture = (await canvas.boundingBox())!
  const width = await canvas.evaluate((one) => (one as unknown as { width: number }).width)
  const scale = picture.width / width
  // Three pixels short: the rest is for the arrow keys.
  const to = { x: picture.x + (at.x - 3) * scale, y: picture.y + at.y * scale }
  await page.mouse.move(from.x, from.y)
  await page.mouse.down()
  await page.mouse.move((from.x + to.x) / 2, (from.y + to.y) / 2)
  await page.mouse.move(to.x, to.y)
  await page.mouse.up()
  for (let step = 0; step < 3; step++) await handle.press('ArrowRight')
}
