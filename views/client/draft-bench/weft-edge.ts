import { weftLoopMm } from '../../../shared/draft/picture/band.ts'
import type { Side } from '../../../shared/draft/picture/cord.ts'
import { loopSize, loopStrokes, turnsAtRight } from '../../../shared/draft/picture/weft-loop.ts'
import type { Sight } from './view.ts'

/**
 * The loops of the weft along both edges of a band lying across, by the geometry of the SVG pictures. No edit of turns
 * changes them, so each edge is a canvas of its own, drawn when size, place or weft change.
 */
export class WeftEdges {
  private readonly edges: readonly HTMLCanvasElement[]
  private key = ''

  /** @param box keeps clear above and below its cloth what the loops need: `--weft-reach` */
  constructor(
    private readonly box: HTMLElement,
    cloth: HTMLElement,
    private readonly side: Side,
  ) {
    this.edges = ['bench-edge-left', 'bench-edge-right'].map((name) => {
      const canvas = document.createElement('canvas')
      canvas.className = `bench-edge ${name}`
      canvas.setAttribute('aria-hidden', 'true')
      cloth.append(canvas)
      return canvas
    })
  }

  /** @param picks how many are drawn in all: the last one has no loop to a next */
  draw(sight: Sight, picks: number, weft: string): void {
    const { widthDev, pickDev, tabletDev, from, to, xOf, dpr } = sight
    const key = [widthDev, pickDev, tabletDev, from, to, xOf(0), dpr, picks, weft].join()
    if (key === this.key) return
    this.key = key
    const reach = weftLoopMm(tabletDev, pickDev)
    const high = Math.ceil(reach)
    this.box.style.setProperty('--weft-reach', `${high / dpr}px`)
    const { thick, out } = loopSize(reach)
    this.edges.forEach((canvas, at) => {
      const isRight = at === 1
      canvas.width = widthDev
      canvas.height = high
      canvas.style.width = `${widthDev / dpr}px`
      canvas.style.height = `${high / dpr}px`
      const context = canvas.getContext('2d')!
      const [edge, bow] = isRight ? [0, out] : [high, high - out]
      context.beginPath()
      for (let pick = Math.max(1, from - 1); pick < Math.min(picks, to + 1); pick++) {
        if (turnsAtRight(pick, this.side) !== isRight) continue
        const [x, next] = [xOf(0) + pick * pickDev, xOf(0) + (pick + 1) * pickDev]
        context.moveTo(x, edge)
        context.bezierCurveTo(x, bow, next, bow, next, edge)
      }
      for (const { hex, share } of loopStrokes(weft)) {
        context.strokeStyle = hex
        context.lineWidth = thick * share
        context.stroke()
      }
    })
  }
}
