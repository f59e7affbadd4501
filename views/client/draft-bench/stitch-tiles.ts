import { darken } from '../../../shared/colour/oklab.ts'
import type { Draft } from '../../../shared/draft/draft.ts'
import { newStitchBook, type Side, type Stitch, traceCord } from '../../../shared/draft/picture/cord.ts'
import { ROUNDNESS } from '../../../shared/draft/picture/cord-drawing.ts'
import { hexOf } from '../../../shared/draft/picture/flat-cord.ts'
import { PICK_UNITS } from '../../../shared/draft/picture/stitch-shape.ts'
import { type Layer, lightLayers, type Palette, threadLayers } from '../../../shared/draft/picture/thread-paint.ts'
import type { Woven } from '../../../shared/draft/woven.ts'
import { scratch, toDot } from './scratch.ts'
import type { Tiles } from './tile-pane.ts'

/** A stitch smaller than this either way, in device pixels, is one flat colour: nobody sees a thread in it. */
export const LEAST_FINE = 5

/**
 * The stitches of one side as tiles, lying across: the same threads, light and shade as the notebook's SVG pictures,
 * from the same outlines.
 * @param shown the draft as it is drawn, asked for at every drawing
 */
export function stitchTiles(side: Side, shown: () => Draft, woven: () => Woven): Tiles {
  const book = newStitchBook()
  const draft = shown()
  const palette: Palette = {
    hexOf: new Map(Object.entries(draft.colours).map(([key, { hex }]) => [key, hex])),
    weft: draft.colours[draft.weft]!.hex,
  }
  return {
    number(row, from, to, into) {
      const cloth = woven()
      const at = side === 'face' ? row : cloth.tablets - 1 - row
      traceCord(book, shown(), cloth, { side, at, from, to }, into)
    },
    isFlat: (width, height) => width < LEAST_FINE || height < LEAST_FINE,
    dotOf: (tile) => toDot(hexOf(book.stitches[tile]!, palette)),
    paint: (tile, width, height) => paintStitch(book.stitches[tile]!, width, height, palette),
  }
}

function paintStitch(stitch: Stitch, width: number, height: number, palette: Palette): Uint32Array {
  const units = (PICK_UNITS * height) / width
  return scratch(width, height, (context) => {
    // Lying across: up the cord is to the right, across the cord is down.
    context.setTransform(0, height / units, width / PICK_UNITS, 0, 0, 0)
    context.fillStyle = darken(palette.weft, 0.5)
    context.fillRect(0, 0, units, PICK_UNITS)
    for (const layer of threadLayers([stitch], 0, units, palette)) put(context, layer)
    for (const layer of lightLayers([stitch], 0, units, Math.min(units, PICK_UNITS))) put(context, layer)
    const round = context.createLinearGradient(0, 0, units, 0)
    for (const [offset, opacity] of ROUNDNESS) round.addColorStop(offset, `rgb(0 0 0 / ${opacity})`)
    context.fillStyle = round
    context.fillRect(0, 0, units, PICK_UNITS)
  })
}

function put(context: CanvasRenderingContext2D, { d, hex, opacity, stroke }: Layer): void {
  context.globalAlpha = opacity
  if (stroke === undefined) {
    context.fillStyle = hex
    context.fill(new Path2D(d))
  } else {
    context.strokeStyle = hex
    context.lineWidth = stroke
    context.stroke(new Path2D(d))
  }
  context.globalAlpha = 1
}
