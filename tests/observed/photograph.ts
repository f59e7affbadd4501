import { Resvg } from '@resvg/resvg-js'
import { fromLinear, toLinear } from '../../shared/colour/hex.ts'
import { HOLES, type Colour, type ColourKey, type Draft, type Tablet } from '../../shared/draft/draft.ts'
import { wovenFace } from '../../shared/draft/picture/woven-face.ts'
import { turningOf, writeTurning } from '../../shared/draft/turning.ts'
import { colourGrid, weave } from '../../shared/draft/weave.ts'
import { type Corners, homographyOf, inverseOf, type Point, project } from '../../shared/observed/homography.ts'
import type { Pixels } from '../../shared/observed/sample.ts'

/** Numbers from 0 to 1 that are the same in every run. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let mixed = Math.imul(state ^ (state >>> 15), state | 1)
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32
  }
}

/** A band with warp colours by tablet and turning in blocks, each tablet in one of a few packs; quarter turns only. */
export function blockDraft(seed: number, tablets: number, picks: number, colours: Record<ColourKey, Colour>): Draft {
  const chance = seeded(seed)
  const keys = Object.keys(colours)
  const pick = <T>(list: readonly T[]) => list[Math.floor(chance() * list.length)]!
  const build = (at: number): Tablet => {
    const [one, other] = [pick(keys), pick(keys)]
    const isBorder = at < 2 || at >= tablets - 2
    const holes = isBorder
      ? [one, one, one, one]
      : pick([
          [one, one, other, other],
          [one, other, other, other],
          [one, other, one, other],
          [pick(keys), pick(keys), pick(keys), pick(keys)],
        ])
    return {
      threading: pick(['S', 'Z']),
      holes: holes as unknown as Tablet['holes'],
      start: pick(HOLES),
      part: isBorder ? 'border' : 'pattern',
    }
  }
  const threaded = Array.from({ length: tablets }, (_, at) => build(at))
  const packOf = threaded.map(() => Math.floor(chance() * 4))
  const turns = new Int8Array(tablets * picks)
  const now = [1, 1, -1, -1]
  for (let row = 0; row < picks; row++) {
    for (let pack = 0; pack < 4; pack++) if (chance() < 0.22) now[pack] = -now[pack]!
    for (let at = 0; at < tablets; at++) turns[row * tablets + at] = now[packOf[at]!]!
  }
  return { title: 'Blocks', colours, weft: keys[0]!, tablets: threaded, picks: writeTurning({ tablets, picks, turns }) }
}

/** What the face of a draft shows, `[pick][tablet]`. */
export const faceOf = (draft: Draft) => colourGrid(draft, weave(draft, turningOf(draft)), 'face')

export interface Conditions {
  readonly seed: number
  /** Mean width and height of a cell in the photograph, in pixels. */
  readonly cellPx: number
  /** How far the corners stray from a rectangle, as a share of the band's width. */
  readonly skew?: number
  /** Standard deviation of the blur in pixels of the photograph. */
  readonly blurPx?: number
  /** Standard deviation of the noise, in bytes. */
  readonly noise?: number
  /** How much brighter the light is on one side than on the other: 0.5 is half as bright again. */
  readonly light?: number
  /** Share of the cells that are covered. */
  readonly missing?: number
  /** What covers them: soil of all shades, or holes through which one dark ground is seen. */
  readonly cover?: 'soil' | 'hole'
  /** How far the mid-line bows sideways, in widths. */
  readonly bow?: number
  /** Loose fibres that lie over their neighbours, as many as this for each cell. */
  readonly fuzz?: number
  /** What the band lies on is itself woven, in checks of its own colours, as a cloth that it edges. */
  readonly isOnCloth?: boolean
}

export interface Photograph {
  readonly pixels: Pixels
  readonly corners: Corners
  /** Cells that were covered, `pick * tablets + tablet`. */
  readonly covered: ReadonlySet<number>
}

/** A photograph of a draft's face: our own picture of it, put through what a camera and the centuries do. */
export function photograph(draft: Draft, conditions: Conditions): Photograph {
  const { cellPx, skew = 0.08, bow = 0 } = conditions
  const [tablets, picks] = [draft.tablets.length, draft.picks.length]
  const chance = seeded(conditions.seed)
  const flat = flatPicture(draft, 2 * cellPx)
  const covered = cover(flat, tablets, picks, conditions, chance)
  const [wide, tall] = [tablets * cellPx, picks * cellPx]
  const margin = Math.ceil(wide * (0.2 + Math.abs(bow)) + 20)
  const stray = () => (chance() - 0.5) * 2 * skew * wide
  const at = (x: number, y: number): Point => ({ x: margin + x + stray(), y: margin + y + stray() })
  const corners = { startLeft: at(0, tall), startRight: at(wide, tall), endRight: at(wide, 0), endLeft: at(0, 0) }
  const [width, height] = [Math.ceil(wide + 2 * margin), Math.ceil(tall + 2 * margin)]
  const light = new Float64Array(width * height * 3)
  const back = inverseOf(homographyOf(corners))
  const plain = [0.36, 0.34, 0.31]
  const dyes = Object.values(draft.colours).map(({ hex }) =>
    [1, 3, 5].map((at) => toLinear(parseInt(hex.slice(at, at + 2), 16) / 255)),
  )
  const clothAt = (x: number, y: number) => {
    if (!conditions.isOnCloth) return plain
    const [warp, weft] = [Math.floor(x / (0.7 * cellPx)), Math.floor(y / (0.8 * cellPx))]
    const dye = dyes[((warp + weft) % 2 === 0 ? warp >> 2 : weft >> 3) % dyes.length]!
    return dye.map((one) => one * (0.7 + 0.3 * Math.abs(Math.sin((x + y) / 2))))
  }
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i += 3) {
      const { x: u, y: v } = project(back, x + 0.5, y + 0.5)
      const inside = v > 0 && v < 1 ? u - 4 * bow * v * (1 - v) : -1
      if (inside > 0 && inside < 1) readFlat(flat, inside, v, light, i)
      else light.set(clothAt(x, y), i)
    }
  }
  layFibres(light, width, { ...conditions, many: (conditions.fuzz ?? 0) * tablets * picks }, chance)
  blur(light, width, height, conditions.blurPx ?? 0)
  return { pixels: develop(light, width, height, conditions, chance), corners, covered }
}

/** Each has the colour of where it comes from, a little lighter, and is half seen through. */
function layFibres(
  light: Float64Array,
  width: number,
  { many, cellPx }: { readonly many: number; readonly cellPx: number },
  chance: () => number,
): void {
  const height = light.length / 3 / width
  for (let fibre = 0; fibre < many; fibre++) {
    const [x, y, way] = [chance() * width, chance() * height, chance() * Math.PI]
    const from = (Math.floor(y) * width + Math.floor(x)) * 3
    const own = [0, 1, 2].map((channel) => Math.min(1, 1.15 * light[from + channel]! + 0.02))
    const long = cellPx * (0.4 + 1.4 * chance())
    const bend = (chance() - 0.5) / cellPx
    for (let at = 0; at < long; at++) {
      const turned = way + bend * at
      const [px, py] = [Math.floor(x + at * Math.cos(turned)), Math.floor(y + at * Math.sin(turned))]
      if (px < 0 || py < 0 || px >= width || py >= height) break
      const into = (py * width + px) * 3
      for (let channel = 0; channel < 3; channel++) light[into + channel] = (light[into + channel]! + own[channel]!) / 2
    }
  }
}

interface Flat {
  readonly width: number
  readonly height: number
  readonly light: Float64Array
}

/** Without the weft loops; pick 1 is lowest. */
function flatPicture(draft: Draft, cell: number): Flat {
  const svg = wovenFace(draft, weave(draft, turningOf(draft)), {
    side: 'face',
    tabletWidthMm: 1,
    pickHeightMm: 1,
    idPrefix: 'p',
  })
  const image = new Resvg(svg, { fitTo: { mode: 'height', value: draft.picks.length * cell } }).render()
  const [width, height] = [draft.tablets.length * cell, draft.picks.length * cell]
  const left = Math.round((image.width - width) / 2)
  const light = new Float64Array(width * height * 3)
  const bytes = image.pixels
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      for (let channel = 0; channel < 3; channel++, i++)
        light[i] = toLinear(bytes[(y * image.width + left + x) * 4 + channel]! / 255)
    }
  }
  return { width, height, light }
}

function cover(
  flat: Flat,
  tablets: number,
  picks: number,
  { missing = 0, cover = 'soil' }: Conditions,
  chance: () => number,
): Set<number> {
  const covered = new Set<number>()
  const cell = flat.width / tablets
  while (covered.size < missing * tablets * picks) {
    // Damage comes in patches of a few cells.
    const [tablet, pick] = [Math.floor(chance() * tablets), Math.floor(chance() * picks)]
    const [wide, tall] = [1 + Math.floor(chance() * 3), 1 + Math.floor(chance() * 3)]
    for (let row = pick; row < Math.min(picks, pick + tall); row++) {
      for (let at = tablet; at < Math.min(tablets, tablet + wide); at++) {
        if (covered.has(row * tablets + at)) continue
        covered.add(row * tablets + at)
        const shade = cover === 'hole' ? 0.02 : 0.04 + 0.3 * chance()
        const colour =
          cover === 'hole'
            ? [shade, shade, shade]
            : [shade * (1 + 0.2 * chance()), shade * 0.8, shade * (0.35 + 0.3 * chance())]
        const top = flat.height - (row + 1) * cell
        for (let y = top; y < top + cell; y++) {
          for (let x = at * cell; x < (at + 1) * cell; x++) {
            const grain = 0.8 + 0.4 * chance()
            for (let channel = 0; channel < 3; channel++)
              flat.light[(y * flat.width + x) * 3 + channel] = colour[channel]! * grain
          }
        }
      }
    }
  }
  return covered
}

/** The mean over a pixel of the photograph, which is two of the flat picture each way. */
function readFlat({ width, height, light }: Flat, u: number, v: number, into: Float64Array, at: number): void {
  const [x, y] = [Math.round(u * width - 1), Math.round((1 - v) * height - 1)]
  const [left, right] = [Math.max(0, x), Math.min(width - 1, x + 1)]
  const [top, low] = [Math.max(0, y), Math.min(height - 1, y + 1)]
  for (let channel = 0; channel < 3; channel++) {
    const pixel = (px: number, py: number) => light[(py * width + px) * 3 + channel]!
    into[at + channel] = (pixel(left, top) + pixel(right, top) + pixel(left, low) + pixel(right, low)) / 4
  }
}

function blur(light: Float64Array, width: number, height: number, deviation: number): void {
  if (deviation === 0) return
  const reach = Math.ceil(3 * deviation)
  const kernel = Array.from({ length: 2 * reach + 1 }, (_, at) => Math.exp(-((at - reach) ** 2) / (2 * deviation ** 2)))
  const total = kernel.reduce((sum, one) => sum + one, 0)
  for (const [step, length, lines, lineStep] of [
    [3, width, height, width * 3],
    [width * 3, height, width, 3],
  ] as const) {
    const row = new Float64Array(length)
    for (let line = 0; line < lines; line++) {
      for (let channel = 0; channel < 3; channel++) {
        const from = line * lineStep + channel
        for (let at = 0; at < length; at++) row[at] = light[from + at * step]!
        for (let at = 0; at < length; at++) {
          let sum = 0
          for (let k = -reach; k <= reach; k++)
            sum += kernel[k + reach]! * row[Math.min(length - 1, Math.max(0, at + k))]!
          light[from + at * step] = sum / total
        }
      }
    }
  }
}

function develop(
  light: Float64Array,
  width: number,
  height: number,
  { light: uneven = 0, noise = 0 }: Conditions,
  chance: () => number,
): Pixels {
  const data = new Uint8ClampedArray(width * height * 4)
  const bell = () => Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance())
  for (let y = 0, i = 0, j = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i += 3, j += 4) {
      // From one side, and a little darker towards the corners; in the middle it is as it was.
      const [across, along] = [(2 * x) / width - 1, (2 * y) / height - 1]
      const factor =
        Math.sqrt(1 + uneven) ** (0.6 * across + 0.4 * along) * (1 - 0.15 * uneven * (across ** 2 + along ** 2))
      for (let channel = 0; channel < 3; channel++) {
        data[j + channel] =
          255 * fromLinear(Math.min(1, light[i + channel]! * factor)) + (noise === 0 ? 0 : noise * bell())
      }
      data[j + 3] = 255
    }
  }
  return { width, height, data }
}
