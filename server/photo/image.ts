import sharp from 'sharp'
import { readKind } from './kind.ts'
import { listSizes, type Size } from './size.ts'
import { createTurns } from './turns.ts'

// libvips reads dozens of formats, some through large libraries; three are enough for photographs.
sharp.block({ operation: ['VipsForeignLoad'] })
sharp.unblock({ operation: ['VipsForeignLoadJpeg', 'VipsForeignLoadPng', 'VipsForeignLoadWebp'] })
sharp.cache(false)
sharp.concurrency(1)

export const MOST_PIXELS = 60_000_000

export interface ReadImage {
  /** As it is looked at: what the camera noted of its turning is applied. */
  readonly width: number
  readonly height: number
  /** JPEG of each size, made of the pixels alone: nothing that the camera wrote beside them is in there. */
  readonly sizes: readonly { readonly size: Size; readonly jpeg: Buffer }[]
}

export type ImageRefusal = { readonly status: 413 | 415 | 422; readonly message: string }

const twoAtOnce = createTurns(2, 30)

/** Reads an uploaded file by what it holds, and makes the web sizes of it; or says what is wrong with it. */
export async function readImage(
  path: string,
): Promise<{ ok: true; image: ReadImage } | { ok: false; refusal: ImageRefusal }> {
  const kind = await readKind(path)
  if (kind === 'heic') return refuse(415, HEIC)
  if (kind === 'other') return refuse(415, 'This file holds no JPEG, PNG or WebP picture, whatever its name says.')
  return twoAtOnce(async () => {
    const decoded = await decode(path, kind)
    if (!('pixels' in decoded)) return { ok: false, refusal: decoded }
    const { pixels, raw, width, height } = decoded
    const sizes = []
    for (const { size, ...box } of listSizes({ width, height })) {
      const jpeg = await sharp(pixels, { raw })
        .resize({ ...box, fit: 'fill' })
        .jpeg({ quality: 82, mozjpeg: true })
        .toBuffer()
      sizes.push({ size, jpeg })
    }
    return { ok: true, image: { width, height, sizes } }
  })
}

interface Decoded {
  readonly pixels: Buffer
  readonly raw: { readonly width: number; readonly height: number; readonly channels: 1 | 2 | 3 | 4 }
  readonly width: number
  readonly height: number
}

/** Decodes once, down to the largest size. Whatever the decoder throws is the fault of the file, not of this machine. */
async function decode(path: string, kind: 'jpeg' | 'png' | 'webp'): Promise<Decoded | ImageRefusal> {
  const options = { failOn: 'error', limitInputPixels: MOST_PIXELS, page: 0, pages: 1, sequentialRead: true } as const
  try {
    const {
      format,
      width = 0,
      height = 0,
      autoOrient,
    } = await sharp(path, { ...options, limitInputPixels: false }).metadata()
    if (format !== kind) return { status: 415, message: DAMAGED }
    if (width * height > MOST_PIXELS) {
      const megapixels = new Intl.NumberFormat('en-GB').format(Math.ceil((width * height) / 1e6))
      return {
        status: 413,
        message: `This picture has ${megapixels} megapixels (${width} × ${height}); up to 60 are taken. Please make it smaller first.`,
      }
    }
    const largest = listSizes(autoOrient).at(-1)!
    const { data, info } = await sharp(path, options)
      .rotate()
      .resize({ width: largest.width, height: largest.height, fit: 'fill' })
      .flatten({ background: '#ffffff' })
      .toColourspace('srgb')
      .raw({ depth: 'uchar' })
      .timeout({ seconds: 30 })
      .toBuffer({ resolveWithObject: true })
    const raw = { width: info.width, height: info.height, channels: info.channels }
    return { pixels: data, raw, width: autoOrient.width, height: autoOrient.height }
  } catch {
    return { status: 422, message: DAMAGED }
  }
}

const DAMAGED =
  'This picture cannot be read to its end: it is damaged, or was cut off on its way. Please send it again from the camera.'
const HEIC =
  'This is a HEIC picture, as iPhones keep them, and this program cannot read it. On the iPhone choose Settings, Camera, Formats, “Most Compatible” for the next ones; this one becomes a JPEG when you share it as such or export it from the Photos app.'

const refuse = (status: ImageRefusal['status'], message: string) =>
  ({ ok: false, refusal: { status, message } }) as const
