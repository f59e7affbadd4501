import type { Tablet } from '../../../shared/draft/draft.ts'
import { type TwistExtent, twistExtents } from '../../../shared/draft/edit/twist-extent.ts'
import type { Turning } from '../../../shared/draft/woven.ts'
import type { Token } from './turn-tiles.ts'
import type { Sight } from './view.ts'

const DYES = ['--madder', '--woad', '--weld', '--walnut'] as const
/** The trace as a whole is not higher than about this, in CSS pixels. */
const USUAL_HEIGHT_PX = 220
const MOST_GAP_PX = 16
const MOST_QUARTER_PX = 5
/** A quarter turn less than this to the side is not seen; for its sake the trace may become three times as high. */
const LEAST_SEEN_PX = 2
/** Lanes closer than this are not numbered each. */
const LEAST_LABEL_PX = 13
/** More lanes than this are drawn in coarser steps: nobody sees a single pick among them. */
const MANY_LANES = 100

export interface LaneLabel {
  readonly text: string
  readonly topPx: number
}

interface Lane extends TwistExtent {
  readonly topPx: number
  readonly zeroPx: number
  readonly highPx: number
}

/**
 * The twist trace lying across: a line per bundle of tablets, down for every turn forward and up for every one back, its
 * picks under those of the band. It tells of one repeat. Lanes that did not change are left as they stand.
 */
export class TwistPane {
  private readonly context: CanvasRenderingContext2D
  private key = ''

  constructor(readonly canvas: HTMLCanvasElement) {
    this.context = canvas.getContext('2d')!
  }

  /**
   * @param changed which tablets may turn otherwise than before; left out, all of them
   * @returns where the lanes stand, to be numbered beside them
   */
  draw(
    tablets: readonly Tablet[],
    turning: Turning,
    sight: Sight,
    token: Token,
    changed?: (tablet: number) => boolean,
  ): LaneLabel[] {
    const extents = twistExtents(tablets, turning, Math.min(sight.from, turning.picks))
    const { lanes, quarter, heightPx } = layOut(extents)
    this.size(sight, heightPx)
    const layout = lanes.map(({ to, part, topPx, zeroPx }) => `${to} ${part} ${topPx.toFixed(2)} ${zeroPx.toFixed(2)}`)
    const { widthDev, pickDev, from, to, xOf } = sight
    const key = [widthDev, pickDev, from, to, xOf(from), quarter, turning.picks, ...layout].join()
    const all = key !== this.key || changed === undefined
    this.key = key
    if (all) this.context.clearRect(0, 0, this.canvas.width, this.canvas.height)
    const [dyes, rule] = [DYES.map(token), token('--rule')]
    const step = Math.max(1, Math.ceil((lanes.length > MANY_LANES ? 4 : 2) / pickDev))
    lanes.forEach((lane, at) => {
      if (!all && !isChanged(lane, changed)) return
      if (!all) {
        const [top, bottom] = [Math.floor(lane.topPx * sight.dpr), Math.ceil((lane.topPx + lane.highPx) * sight.dpr)]
        this.context.clearRect(0, top, widthDev, bottom - top)
      }
      this.drawLane(lane, turning, sight, { quarter, step, dye: dyes[at % dyes.length]!, rule })
    })
    return labelsOf(lanes)
  }

  private size({ widthDev, dpr }: Sight, heightPx: number): void {
    const { canvas } = this
    const height = Math.max(1, Math.round(heightPx * dpr))
    if (canvas.width === widthDev && canvas.height === height) return
    canvas.width = widthDev
    canvas.height = height
    canvas.style.width = `${widthDev / dpr}px`
    canvas.style.height = `${height / dpr}px`
    this.key = ''
  }

  private drawLane(
    { from: tablet, part, zeroPx, netBefore }: Lane,
    { turns, tablets, picks }: Turning,
    { from, to, xOf, dpr }: Sight,
    { quarter, step, dye, rule }: { quarter: number; step: number; dye: string; rule: string },
  ): void {
    const { context } = this
    const end = Math.min(picks, to)
    if (from >= end) return
    const y = (net: number) => (zeroPx + net * quarter) * dpr
    context.strokeStyle = rule
    context.lineWidth = dpr
    context.setLineDash([])
    context.beginPath()
    context.moveTo(xOf(from), y(0))
    context.lineTo(xOf(end), y(0))
    context.stroke()
    context.strokeStyle = dye
    context.lineWidth = (quarter < 1 ? 1 : 1.6) * dpr
    context.setLineDash(part === 'border' ? [5 * dpr, 3 * dpr] : [])
    context.beginPath()
    context.moveTo(xOf(from), y(netBefore))
    let net = netBefore
    let last = turns[from * tablets + tablet]!
    for (let pick = from, cell = from * tablets + tablet; pick < end; pick++, cell += tablets) {
      const turn = turns[cell]!
      // A point where the line bends is enough; among many lanes only every few picks.
      if (turn !== last && (step === 1 || pick % step === 0)) context.lineTo(xOf(pick), y(net))
      last = turn
      net += turn
    }
    context.lineTo(xOf(end), y(net))
    context.stroke()
  }
}

const isChanged = ({ from, to }: Lane, changed: (tablet: number) => boolean): boolean => {
  for (let tablet = from; tablet <= to; tablet++) if (changed(tablet)) return true
  return false
}

function layOut(extents: readonly TwistExtent[]): { lanes: Lane[]; quarter: number; heightPx: number } {
  const quarters = extents.reduce((sum, { least, most }) => sum + most - least, 0)
  const gap = Math.max(2, Math.min(MOST_GAP_PX, (USUAL_HEIGHT_PX * 0.6) / extents.length))
  const free = Math.max(USUAL_HEIGHT_PX - gap * extents.length, USUAL_HEIGHT_PX / 4)
  const seen = Math.min(LEAST_SEEN_PX, (2 * USUAL_HEIGHT_PX) / Math.max(1, quarters))
  const quarter = quarters === 0 ? MOST_QUARTER_PX : Math.min(MOST_QUARTER_PX, Math.max(free / quarters, seen))
  let topPx = 0
  const lanes = extents.map((extent) => {
    const highPx = gap + (extent.most - extent.least) * quarter
    const lane = { ...extent, topPx, highPx, zeroPx: topPx + gap / 2 - extent.least * quarter }
    topPx += highPx
    return lane
  })
  return { lanes, quarter, heightPx: Math.ceil(topPx) }
}

function labelsOf(lanes: readonly Lane[]): LaneLabel[] {
  let numbered = -LEAST_LABEL_PX
  return lanes.flatMap(({ from, to, zeroPx }) => {
    if (zeroPx - numbered < LEAST_LABEL_PX) return []
    numbered = zeroPx
    return [{ text: from === to ? `${from + 1}` : `${from + 1}–${to + 1}`, topPx: zeroPx }]
  })
}
