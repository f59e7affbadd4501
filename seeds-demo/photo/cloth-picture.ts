import type { Draft } from '../../shared/draft/draft.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { colourGrid, weave } from '../../shared/draft/weave.ts'
import { SLASH, BACKSLASH } from '../../shared/draft/woven.ts'
import type { Corners } from '../../shared/observed/homography.ts'

/** Red, green and blue of each pixel, row by row. */
export interface RawPicture {
  readonly data: Uint8Array
  readonly width: number
  readonly height: number
}

export interface ClothOptions {
  readonly width: number
  readonly height: number
  /** Pixels from one cord to the next, and from pick to pick. */
  readonly cordPx: number
  readonly pickPx: number
  readonly side: 'face' | 'reverse'
}

const TABLE: Colour = [178, 166, 146]
const LEAN = 0.9

type Colour = readonly [red: number, green: number, blue: number]

/**
 * A band on a linen table, its warp from left to right, with light from the upper left: drawn pixel by pixel from a draft,
 * as something to look at in the demo collection. A picture and no photograph, and its caption says so. Our own drawing.
 */
export function clothPicture(draft: Draft, { width, height, cordPx, pickPx, side }: ClothOptions): RawPicture {
  const woven = weave(draft, turningOf(draft))
  const grid = colourGrid(draft, woven, side)
  const colours = new Map(Object.entries(draft.colours).map(([key, { hex }]) => [key, toColour(hex)]))
  const weft = colours.get(draft.weft) ?? TABLE
  const tablets = draft.tablets.length
  const top = topOf({ height, cordPx }, tablets)
  const data = new Uint8Array(width * height * 3)
  let at = 0
  for (let y = 0; y < height; y += 1) {
    const across = (y - top) / cordPx
    const tablet = Math.floor(across)
    const isBand = across >= 0 && tablet < tablets
    const v = across - tablet - 0.5
    // The cord is round: dark towards its edges, brightest above its middle.
    const round = 0.62 + 0.38 * Math.sqrt(Math.max(0, 1 - (2 * v + 0.25) ** 2))
    for (let x = 0; x < width; x += 1, at += 3) {
      const light = 1.06 - 0.2 * (x / width) - 0.14 * (y / height)
      if (!isBand) {
        const shadow = across >= tablets && across < tablets + 0.9 ? 0.62 + 0.42 * (across - tablets) : 1
        const linen = 0.93 + 0.05 * Math.sin(x * 0.9) * Math.sin(y * 0.9) + 0.06 * grain(x, y)
        put(data, at, TABLE, light * linen * shadow)
        continue
      }
      const lies = Math.max(0, Math.floor(x / pickPx))
      const slant = woven.slant[(lies % woven.picks) * tablets + tablet]
      const lean = slant === SLASH ? -LEAN : slant === BACKSLASH ? LEAN : 0
      const along = x / pickPx + lean * v + 1
      const pick = ((Math.floor(along) % woven.picks) + woven.picks) % woven.picks
      const u = along - Math.floor(along) - 0.5
      const key = grid[pick]?.[tablet]
      const thread = key === null || key === undefined ? weft : (colours.get(key) ?? weft)
      const turn = 0.74 + 0.26 * Math.sqrt(Math.max(0, 1 - 3.2 * u * u))
      const fibre = 0.95 + 0.1 * grain(Math.floor(x * 0.7 + lean * y * 1.6), Math.floor(y * 0.8))
      put(data, at, thread, light * round * turn * fibre)
    }
  }
  return { data, width, height }
}

function topOf({ height, cordPx }: Pick<ClothOptions, 'height' | 'cordPx'>, tablets: number): number {
  return Math.round((height - tablets * cordPx) / 2)
}

/** Where a stretch of the face lies in the picture, so many picks in from its left edge. */
export function bandCorners(
  { height, cordPx, pickPx }: ClothOptions,
  { tablets, picks }: { readonly tablets: number; readonly picks: number },
  picksBefore: number,
): Corners {
  const [left, right] = [picksBefore * pickPx, (picksBefore + picks) * pickPx]
  const top = topOf({ height, cordPx }, tablets)
  const bottom = top + tablets * cordPx
  return {
    ...{ startLeft: { x: left, y: top }, startRight: { x: left, y: bottom } },
    ...{ endRight: { x: right, y: bottom }, endLeft: { x: right, y: top } },
  }
}

function put(data: Uint8Array, at: number, [red, green, blue]: Colour, bright: number): void {
  data[at] = Math.min(255, red * bright)
  data[at + 1] = Math.min(255, green * bright)
  data[at + 2] = Math.min(255, blue * bright)
}

/** -1 to 1, the same for the same place. */
function grain(x: number, y: number): number {
  let hash = (Math.imul(x, 374761393) + Math.imul(y, 668265263)) | 0
  hash = Math.imul(hash ^ (hash >>> 13), 1274126177)
  return ((hash ^ (hash >>> 16)) & 0xffff) / 0x8000 - 1
}

const toColour = (hex: string): Colour => [
  parseInt(hex.slice(1, 3), 16),
  parseInt(hex.slice(3, 5), 16),
  parseInt(hex.slice(5, 7), 16),
]
