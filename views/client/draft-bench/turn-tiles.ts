import type { Bench } from '../../../shared/draft/edit/bench.ts'
import { BACKSLASH, NO_SLANT, type Woven } from '../../../shared/draft/woven.ts'
import { scratch } from './scratch.ts'
import type { Tiles } from './tile-pane.ts'

/** Colours of the page, by the name of their token. */
export type Token = (name: string) => string

/** Asked once for each name: the answer costs a look at all styles. Ask anew when the scheme changes. */
export function tokenOf(element: Element): Token {
  const known = new Map<string, string>()
  return (name) => {
    let value = known.get(name)
    if (value === undefined) known.set(name, (value = getComputedStyle(element).getPropertyValue(name).trim()))
    return value
  }
}

const TENTH = 1
const BORDER = 2
/** A turn smaller than this either way, in device pixels, is one flat colour: no stroke is seen in it. */
const LEAST_STROKE = 3

const turnOf = (tile: number) => Math.floor(tile / 12) - 2

/**
 * Every turn as a stroke that slants as its stitch lies in the band above: forward drawn through, back broken in two,
 * a half turn two strokes, idle a short dash along the warp. Every tenth pick and the border tablets lie on another ground.
 */
export function turnTiles(bench: () => Bench, woven: () => Woven, token: Token): Tiles {
  return {
    number(row, from, to, into) {
      const { turning, tablets } = bench()
      const { slant } = woven()
      const border = tablets[row]!.part === 'border' ? BORDER : 0
      for (let pick = from; pick < to; pick++) {
        const at = pick % turning.picks
        const cell = at * turning.tablets + row
        const ground = border + (at % 10 === 9 ? TENTH : 0)
        into[pick - from] = ((turning.turns[cell]! + 2) * 3 + slant[cell]!) * 4 + ground
      }
    },
    isFlat: (width, height) => width < LEAST_STROKE || height < LEAST_STROKE,
    dotOf(tile) {
      const turn = turnOf(tile)
      return scratch(1, 1, (context) => {
        context.fillStyle = token(turn > 0 ? '--woad' : turn < 0 ? '--madder' : '--rule')
        context.fillRect(0, 0, 1, 1)
      })[0]!
    },
    paint(tile, width, height) {
      const ground = tile & 3
      const slant = (tile >> 2) % 3
      return scratch(width, height, (context) => {
        context.fillStyle = token(ground & BORDER ? '--weld-wash' : '--sheet')
        context.fillRect(0, 0, width, height)
        if (ground & TENTH) {
          context.fillStyle = token('--rule')
          context.fillRect(width - 1, 0, 1, height)
        }
        stroke(context, turnOf(tile), slant, width, height, token)
      })
    },
  }
}

function stroke(
  context: CanvasRenderingContext2D,
  turn: number,
  slant: number,
  width: number,
  height: number,
  token: Token,
): void {
  context.lineCap = 'round'
  context.lineWidth = Math.max(1, Math.min(width, height) * 0.16)
  context.strokeStyle = token(turn > 0 ? '--woad' : turn < 0 ? '--madder' : '--rule-strong')
  const line = (x0: number, y0: number, x1: number, y1: number) => {
    context.beginPath()
    context.moveTo(x0 * width, y0 * height)
    context.lineTo(x1 * width, y1 * height)
    context.stroke()
  }
  if (turn === 0 || slant === NO_SLANT) return line(0.34, 0.5, 0.66, 0.5)
  // Lying across, what leans like "/" on the loom falls to the right.
  const lean = slant === BACKSLASH ? (y: number) => 1 - y : (y: number) => y
  const apart = Math.abs(turn) === 2 ? [-0.17, 0.17] : [0]
  for (const shift of apart) {
    const [a, b] = [0.16 + shift / 2, 0.84 + shift / 2]
    if (turn > 0) line(a, lean(0.16), b, lean(0.84))
    else {
      line(a, lean(0.16), a + 0.23, lean(0.39))
      line(b - 0.23, lean(0.61), b, lean(0.84))
    }
  }
}
