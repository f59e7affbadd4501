import { darken, lighten } from '../../colour/oklab.ts'
import type { Stitch } from './cord.ts'
import { isMirrored, OVERLAP, PICK_UNITS, ridgePath, seamPath, threadOutlines } from './stitch-shape.ts'
import { short } from './svg.ts'

/** Colours of a picture: hex by colour key, and of the weft. */
export interface Palette {
  readonly hexOf: ReadonlyMap<string, string>
  readonly weft: string
}

/** The dark in which the weft lies where a hole is empty. */
export const hollowOf = (palette: Palette) => darken(palette.weft, 0.5)

/** One path of a picture: a colour laid inside it, or drawn along it `stroke` units wide. */
export interface Layer {
  readonly d: string
  readonly hex: string
  readonly opacity: number
  /** Undefined for a colour inside the path. */
  readonly stroke?: number
}

/** `threadLayers` as SVG paths. */
export const paintThreads = (stitches: readonly Stitch[], at: number, width: number, palette: Palette): string =>
  threadLayers(stitches, at, width, palette)
    .map(({ hex, d }) => `<path fill="${hex}" d="${d}"/>`)
    .join('')

/**
 * The threads of some stitches in flat colour, one above the other.
 * @param stitches from the lowest up
 * @param at units above the ground line of the lowest
 * @param width of the cord in units
 * @returns paths in the order in which they are painted; where a hole is empty the weft crosses a hollow
 */
export function threadLayers(stitches: readonly Stitch[], at: number, width: number, palette: Palette): Layer[] {
  const ground = new Map<string, string>()
  // Mirrored outlines run the other way round; in one path the two would cut each other out where they overlap.
  const over = [new Map<string, string>(), new Map<string, string>()] as const
  const hollow = hollowOf(palette)
  const add = (paths: Map<string, string>, hex: string, d: string) => paths.set(hex, (paths.get(hex) ?? '') + d)
  const grounds = stitches.map((stitch) => {
    const key = stitch.threads.includes(null) ? null : stitch.threads[Math.max(0, stitch.shown)]!
    return key === null ? hollow : palette.hexOf.get(key)!
  })
  const side = short(width, 1)
  let [wefts, lights] = ['', '']

  for (let from = 0, to = 0; from < stitches.length; from = to) {
    while (to < stitches.length && grounds[to] === grounds[from]) to++
    const tall = (to - from) * PICK_UNITS + (to === stitches.length ? OVERLAP : 0)
    add(ground, grounds[from]!, `M0 ${at + from * PICK_UNITS}h${side}v${tall}H0Z`)
  }
  stitches.forEach((stitch, step) => {
    const y = at + step * PICK_UNITS
    if (stitch.threads.includes(null)) {
      wefts += weftHalves(y, side, 0.34)
      lights += weftHalves(y, side, 0.14)
    }
    const hexes = stitch.threads.map((key) => (key === null ? hollow : palette.hexOf.get(key)!))
    if (hexes.every((hex) => hex === grounds[step])) return
    const overlay = over[isMirrored(stitch) ? 1 : 0]
    threadOutlines(stitch, y, width).forEach((outline, thread) => {
      if (stitch.threads[thread] !== null && hexes[thread] !== grounds[step]) add(overlay, hexes[thread]!, outline)
    })
  })
  const woven: [string, string][] = [
    [darken(palette.weft, 0.14), wefts],
    [lighten(palette.weft, 0.12), lights],
  ]
  const painted = [...ground, ...woven, ...over[0], ...over[1]].filter(([, d]) => d !== '')
  return painted.map(([hex, d]) => ({ hex, d, opacity: 1 }))
}

/** The upper half of the weft below a stitch and the lower half of the weft above it. */
function weftHalves(at: number, side: string, share: number): string {
  const reach = Math.round(PICK_UNITS * share)
  return `M0 ${at}h${side}v${reach}H0ZM0 ${at + PICK_UNITS - reach}h${side}v${reach}H0Z`
}

/** `lightLayers` as SVG paths. */
export function paintLight(stitches: readonly Stitch[], at: number, width: number, fineness: number): string {
  const layers = lightLayers(stitches, at, width, fineness)
  const lit = layers
    .filter(({ stroke }) => stroke === undefined)
    .map(({ d, opacity }) => `<path fill="#fff" fill-opacity="${short(opacity)}" d="${d}"/>`)
  const dark = layers.flatMap(({ d, opacity, stroke }) =>
    stroke === undefined
      ? []
      : [`<path stroke-opacity="${short(opacity)}" stroke-width="${short(stroke, 1)}" d="${d}"/>`],
  )
  return `${lit.join('')}<g fill="none" stroke="#000">${dark.join('')}</g>`
}

/**
 * The light and shade of some stitches, whatever their colour: dark seams between threads and along the cord, a light
 * ridge along the thread that shows.
 * @param fineness the smaller of the cord's width and a pick's height, in units: line widths follow it
 * @returns paths in the order in which they are painted; other arguments as for `threadLayers`
 */
export function lightLayers(stitches: readonly Stitch[], at: number, width: number, fineness: number): Layer[] {
  const side = short(width, 1)
  const tall = stitches.length * PICK_UNITS
  const edges = `M0 ${at}v${tall}M${side} ${at}v${tall}`
  let seams = ''
  const ridges = RIDGES.map(() => '')
  stitches.forEach((stitch, step) => {
    const y = at + step * PICK_UNITS
    seams += seamPath(stitch, y, width)
    if (stitch.threads[stitch.shown] === null) return
    RIDGES.forEach((breadth, layer) => (ridges[layer] += ridgePath(stitch, y, width, breadth)))
  })
  const lit = ridges.filter((d) => d !== '').map((d) => ({ d, hex: '#ffffff', opacity: 0.07 }))
  const dark = (
    [
      [0.32, 0.1, seams + edges],
      [0.19, 0.12, seams + edges],
      [0.055, 0.42, seams],
    ] as const
  ).map(([share, opacity, d]) => ({ d, hex: '#000000', opacity, stroke: fineness * share }))
  return [...lit, ...dark]
}

// Our own, by eye, on light, bright and dark yarns side by side.
const RIDGES = [0.23, 0.16, 0.08]
