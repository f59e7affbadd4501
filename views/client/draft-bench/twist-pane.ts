import type { Tablet } from '../../../shared/draft/draft.ts'
import { followTwist, startLiveTwist, type TwistExtent } from '../../../shared/draft/edit/twist-extent.ts'
import type { Turning } from '../../../shared/draft/woven.ts'
import { type LaneLabel, labelsOf } from './lane-label.ts'
import type { Token } from './turn-tiles.ts'
import type { Sight } from './view.ts'

const DYES = ['--madder', '--woad', '--weld', '--walnut'] as const
/** The trace as a whole is not higher than about this, in CSS pixels. */
const USUAL_HEIGHT_PX = 220
const MOST_GAP_PX = 16
const MOST_QUARTER_PX = 5
/** A quarter turn less than this to the side is not seen; for its sake the trace may become three times as high. */
const LEAST_SEEN_PX = 2
/** More lanes than this are drawn in coarser steps: nobody sees a single pick among them. */
const MANY_LANES = 100
/** Where a lane goes to the side by less than this for a quarter turn, its bends are drawn as far as they are seen. */
const FINE_QUARTER_PX = 0.1
const SEEN_PX = 0.25

interface Lane extends TwistExtent {
  readonly topPx: number
  readonly zeroPx: number
  readonly highPx: number
}

/** How the lanes are drawn: length of a quarter turn, the picks between points, the colours. */
interface Pen {
  readonly quarter: number
  readonly step: number
  readonly dyes: readonly string[]
  readonly rule: string
}

/**
 * The twist trace lying across: a line per bundle of tablets, down for every turn forward and up for every one back, its
 * picks under those of the band. It tells of one repeat. Lanes that did not change are left as they stand.
 */
export class TwistPane {
  private readonly context: CanvasRenderingContext2D
  private readonly twist = startLiveTwist()
  private key = ''
  /** As they were last drawn all together. */
  private drawn: readonly Lane[] = []

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
    const extents = followTwist(this.twist, tablets, turning, Math.min(sight.from, turning.picks))
    const { lanes, quarter, heightPx } = layOut(extents)
    this.size(sight, heightPx)
    const { widthDev, pickDev, from, to, xOf, dpr } = sight
    const key = [widthDev, pickDev, from, to, xOf(from), turning.picks].join()
    const all = key !== this.key || changed === undefined || !standAlike(this.drawn, lanes)
    this.key = key
    const step = Math.max(1, Math.ceil((lanes.length > MANY_LANES ? 4 : 2) / pickDev))
    const pen = { quarter, step, dyes: DYES.map(token), rule: token('--rule') }
    if (all) {
      this.drawn = lanes
      this.context.clearRect(0, 0, this.canvas.width, this.canvas.height)
      this.drawLanes(lanes, turning, sight, pen)
      return labelsOf(lanes)
    }
    lanes.forEach((lane, at) => {
      if (!isChanged(lane, changed)) return
      const { topPx, highPx } = lane
      const [top, bottom] = [Math.floor(topPx * dpr), Math.ceil((topPx + highPx) * dpr)]
      this.context.clearRect(0, top, widthDev, bottom - top)
      this.drawLanes([lane], turning, sight, { ...pen, dyes: [pen.dyes[at % pen.dyes.length]!] })
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

  /** All lanes of one dye and one stroke are one path: a path for each would cost a call for each. */
  private drawLanes(lanes: readonly Lane[], turning: Turning, sight: Sight, { quarter, step, dyes, rule }: Pen): void {
    const { context } = this
    const { from, to, xOf, dpr } = sight
    const end = Math.min(turning.picks, to)
    if (from >= end) return
    context.strokeStyle = rule
    context.lineWidth = dpr
    context.setLineDash([])
    context.beginPath()
    for (const { zeroPx } of lanes) {
      context.moveTo(xOf(from), zeroPx * dpr)
      context.lineTo(xOf(end), zeroPx * dpr)
    }
    context.stroke()
    context.lineWidth = (quarter < 1 ? 1 : 1.6) * dpr
    const xs = new Int32Array(end - from + 1)
    for (let pick = from; pick <= end; pick++) xs[pick - from] = xOf(pick)
    dyes.forEach((dye, of) => {
      context.strokeStyle = dye
      for (const part of ['pattern', 'border'] as const) {
        const some = lanes.filter((lane, at) => at % dyes.length === of && lane.part === part)
        if (some.length === 0) continue
        context.setLineDash(part === 'border' ? [5 * dpr, 3 * dpr] : [])
        context.beginPath()
        for (const lane of some) this.trace(lane, turning, { from, end, dpr, xs, quarter, step })
        context.stroke()
      }
    })
  }

  private trace(
    { from: tablet, zeroPx, netBefore }: Lane,
    { turns, tablets }: Turning,
    to: { from: number; end: number; dpr: number; xs: Int32Array; quarter: number; step: number },
  ): void {
    const { context } = this
    const { from, end, dpr, xs, quarter, step } = to
    const [zero, high] = [zeroPx * dpr, quarter * dpr]
    const leastSeen = quarter < FINE_QUARTER_PX ? SEEN_PX / high : 0
    let net = netBefore
    let marked = net
    let last = turns[from * tablets + tablet]!
    context.moveTo(xs[0]!, zero + net * high)
    for (let pick = from, cell = from * tablets + tablet; pick < end; pick++, cell += tablets) {
      const turn = turns[cell]!
      // A point where the line bends is enough; among many lanes only every few picks.
      if (Math.abs(net - marked) >= leastSeen && turn !== last && (step === 1 || pick % step === 0)) {
        context.lineTo(xs[pick - from]!, zero + net * high)
        marked = net
      }
      last = turn
      net += turn
    }
    context.lineTo(xs[end - from]!, zero + net * high)
  }
}

/** Whether lanes stand where others stand, to less than can be seen. */
const standAlike = (some: readonly Lane[], others: readonly Lane[]): boolean =>
  some.length === others.length &&
  some.every(({ to, part, zeroPx, topPx }, at) => {
    const other = others[at]!
    const [zero, top] = [Math.abs(zeroPx - other.zeroPx), Math.abs(topPx - other.topPx)]
    return to === other.to && part === other.part && zero < SEEN_PX && top < SEEN_PX
  })

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
  return { lanes, quarter, heightPx: Math.ceil(topPx - 1e-6) }
}
