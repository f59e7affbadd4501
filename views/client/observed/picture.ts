/** More pixels than this are not worked on: a cell needs a dozen each way. */
const MOST_PIXELS = 16_000_000

export interface LoadedPicture {
  readonly width: number
  readonly height: number
  /** Of the file, before it was made smaller. */
  readonly wholeWidth: number
  readonly wholeHeight: number
}

/**
 * Draws a photograph on the canvas, decoded beside the page and made smaller where it is very large.
 * @returns its size, or a sentence on why it cannot be shown
 */
export async function loadPicture(blob: Blob, canvas: HTMLCanvasElement): Promise<LoadedPicture | string> {
  let bitmap: ImageBitmap
  try {
    bitmap = await createImageBitmap(blob)
  } catch {
    return 'This file is not a picture that your browser can show.'
  }
  const scale = Math.min(1, Math.sqrt(MOST_PIXELS / (bitmap.width * bitmap.height)))
  const [wholeWidth, wholeHeight] = [bitmap.width, bitmap.height]
  canvas.width = Math.max(1, Math.round(wholeWidth * scale))
  canvas.height = Math.max(1, Math.round(wholeHeight * scale))
  const context = canvas.getContext('2d', { willReadFrequently: true })
  if (!context) return 'Your browser gives no room to draw the picture in.'
  context.imageSmoothingQuality = 'high'
  context.drawImage(bitmap, 0, 0, canvas.width, canvas.height)
  bitmap.close()
  return { width: canvas.width, height: canvas.height, wholeWidth, wholeHeight }
}

/** Its pixels, as a copy. */
export function pixelsOf(canvas: HTMLCanvasElement): ArrayBuffer {
  const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height)
  return data.buffer
}
