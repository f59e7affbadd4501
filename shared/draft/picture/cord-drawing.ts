import type { Cords } from './cord.ts'
import { drawByDictionary } from './dictionary.ts'
import { PICK_UNITS } from './stitch-shape.ts'
import { short } from './svg.ts'
import { paintLight, paintThreads, type Palette } from './thread-paint.ts'

// Bytes of one stitch drawn in full, measured on drafts of our own.
const THREAD_BYTES = 100
const LIGHT_BYTES = 400

/**
 * Cords with all their threads, light and shade. Cords that are alike are drawn once.
 * @param width of a cord in units
 * @param idPrefix begins every id
 * @returns SVG elements with their own `<defs>`
 * Source: our own.
 */
export function drawCords(drawn: Cords, palette: Palette, width: number, idPrefix: string): string {
  const { stitches, cords } = drawn
  const height = cords[0]!.length * PICK_UNITS
  const side = short(width, 1)
  const threads = drawByDictionary(cords, PICK_UNITS, THREAD_BYTES, `${idPrefix}-t`, (places, at) =>
    paintThreads(
      Array.from(places, (place) => stitches[place]!),
      at,
      width,
      palette,
    ),
  )
  const { shapes, examples } = shapesOf(drawn)
  const light = drawByDictionary(shapes, PICK_UNITS, LIGHT_BYTES, `${idPrefix}-l`, (places, at) =>
    paintLight(
      Array.from(places, (place) => stitches[examples[place]!]!),
      at,
      width,
      Math.min(width, PICK_UNITS),
    ),
  )
  const ids = new Map<string, string>()
  let [defs, uses] = ['', '']
  threads.columns.forEach((words, at) => {
    const cord = words + light.columns[at]!
    let id = ids.get(cord)
    if (id === undefined) {
      ids.set(cord, (id = `${idPrefix}-k${ids.size.toString(36)}`))
      defs += `<g id="${id}" clip-path="url(#${idPrefix}-c)">${cord}<use href="#${idPrefix}-s"/></g>`
    }
    uses += `<use href="#${id}"${at === 0 ? '' : ` x="${short(at * width, 1)}"`}/>`
  })
  const outline = `d="M0 0h${side}v${height}H0Z"`
  return (
    `<defs>${threads.defs}${light.defs}<clipPath id="${idPrefix}-c"><path ${outline}/></clipPath>` +
    `<linearGradient id="${idPrefix}-r">${roundness()}</linearGradient>` +
    `<path id="${idPrefix}-s" fill="url(#${idPrefix}-r)" ${outline}/>${defs}</defs>${uses}`
  )
}

/** The shade that makes a cord round, light coming from the left: share of the width, then opacity. Our own, by eye. */
export const ROUNDNESS = [
  [0, 0.2],
  [0.16, 0.07],
  [0.34, 0],
  [0.6, 0],
  [0.8, 0.08],
  [1, 0.3],
] as const

const roundness = () =>
  ROUNDNESS.map(([offset, opacity]) => `<stop offset="${short(offset)}" stop-opacity="${short(opacity)}"/>`).join('')

/** Light does not ask for colour: stitches of one shape are one, but for whether the thread that shows is there. */
function shapesOf({ stitches, cords }: Cords): { shapes: Uint32Array[]; examples: number[] } {
  const known = new Map<string, number>()
  const examples: number[] = []
  const shapeOf = stitches.map((stitch, place) => {
    const key = [stitch.kind, stitch.below, stitch.above, stitch.threads[stitch.shown] === null].join()
    let shape = known.get(key)
    if (shape === undefined) {
      known.set(key, (shape = examples.length))
      examples.push(place)
    }
    return shape
  })
  return { shapes: cords.map((cord) => cord.map((place) => shapeOf[place]!)), examples }
}
