import { renderAsync } from '@resvg/resvg-js'
import sharp from 'sharp'

/** Most pixels of one picture, and most on a side: about 100 MB while it is drawn. Our own, by measuring. */
export const MOST_PIXELS = 24_000_000
export const LONGEST_SIDE = 16_000

const MM_PER_INCH = 25.4

/**
 * How many pixels a length takes.
 * @example pixelsOf(254, 300) // 3000
 */
export const pixelsOf = (mm: number, dpi: number): number => Math.max(1, Math.round((mm / MM_PER_INCH) * dpi))

/** One at a time, whoever asks: a picture at the limit takes memory, and the threads that draw it are few. */
let last: Promise<unknown> = Promise.resolve()

/**
 * Draws an SVG in millimetres as PNG on white. The resolution stands in the file (pHYs), so that a program which heeds
 * it prints the picture at its true size. Drawn and packed beside the thread that answers requests.
 * @param widthMm the width that the SVG says
 */
export function drawPng(svg: string, { widthMm, dpi }: { widthMm: number; dpi: number }): Promise<Buffer> {
  const drawn = last.then(() => draw(svg, { widthMm, dpi }))
  last = drawn.catch(() => undefined)
  return drawn
}

async function draw(svg: string, { widthMm, dpi }: { widthMm: number; dpi: number }): Promise<Buffer> {
  const image = await renderAsync(svg, {
    fitTo: { mode: 'width', value: pixelsOf(widthMm, dpi) },
    background: '#ffffff',
    font: { loadSystemFonts: false },
  })
  const { width, height, pixels } = image
  // On white every pixel is opaque, so nothing is lost with the fourth channel.
  return sharp(pixels, { raw: { width, height, channels: 4 }, limitInputPixels: MOST_PIXELS * 2 })
    .removeAlpha()
    .withMetadata({ density: dpi })
    .png({ compressionLevel: 6 })
    .toBuffer()
}
