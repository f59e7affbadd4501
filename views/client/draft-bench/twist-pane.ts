import type { Draft } from '../../../shared/draft/draft.ts'
import { lanesOf, type TwistLane } from '../../../shared/draft/picture/twist-lane.ts'
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

export interface LaneLabel {
  readonly text: string
  readonly topPx: number
}

/**
 * The twist trace lying across: a line per bundle of tablets, down for every turn forward and up for every one back, its
 * picks under those of the band. It tells of one repeat.
 */
export class TwistPane {
  private readonly context: CanvasRenderingContext2D

  constructor(readonly canvas: HTMLCanvasElement) {
    this.context = canvas.getContext('2d')!
  }

  /** @returns where the lanes stand, to be numbered beside them */
  draw(draft: Draft, turning: Turning, sight: Sight, token: Token): LaneLabel[] {
    const lanes = lanesOf(draft, turning)
    const quarters = lanes.reduce((sum, { least, most }) => sum + most - least, 0)
    const gap = Math.max(2, Math.min(MOST_GAP_PX, (USUAL_HEIGHT_PX * 0.6) / lanes.length))
    const free = Math.max(USUAL_HEIGHT_PX - gap * lanes.length, USUAL_HEIGHT_PX / 4)
    const seen = Math.min(LEAST_SEEN_PX, (2 * USUAL_HEIGHT_PX) / Math.max(1, quarters))
    const quarter = quarters === 0 ? MOST_QUARTER_PX : Math.min(MOST_QUARTER_PX, Math.max(free / quarters, seen))
    const heightPx = Math.ceil(gap * lanes.length + quarters * quarter)
    this.size(sight, heightPx)
    const dyes = DYES.map(token)
    const rule = token('--rule')
    const end = Math.min(turning.picks, sight.to)
    let top = 0
    let numbered = -LEAST_LABEL_PX
    const labels: LaneLabel[] = []
    lanes.forEach((lane, at) => {
      const zero = top + gap / 2 - lane.least * quarter
      this.line(sight, rule, 1, [], () => {
        this.context.moveTo(Math.max(0, sight.xOf(0)), zero * sight.dpr)
        this.context.lineTo(sight.xOf(end), zero * sight.dpr)
      })
      const broken = lane.part === 'border' ? [5, 3] : []
      this.line(sight, dyes[at % dyes.length]!, 1.6, broken, () => this.walk(lane, zero, quarter, sight))
      if (zero - numbered >= LEAST_LABEL_PX) {
        labels.push({ text: lane.from === lane.to ? `${lane.from}` : `${lane.from}–${lane.to}`, topPx: zero })
        numbered = zero
      }
      top += gap + (lane.most - lane.least) * quarter
    })
    return labels
  }

  private size({ widthDev, dpr }: Sight, heightPx: number): void {
    const { canvas } = this
    const height = Math.max(1, Math.round(heightPx * dpr))
    if (canvas.width !== widthDev || canvas.height !== height) {
      canvas.width = widthDev
      canvas.height = height
      canvas.style.width = `${widthDev / dpr}px`
      canvas.style.height = `${height / dpr}px`
    } else this.context.clearRect(0, 0, canvas.width, canvas.height)
  }

  private line(sight: Sight, colour: string, widthPx: number, dashPx: number[], path: () => void): void {
    const { context } = this
    context.strokeStyle = colour
    context.lineWidth = widthPx * sight.dpr
    context.setLineDash(dashPx.map((dash) => dash * sight.dpr))
    context.beginPath()
    path()
    context.stroke()
  }

  private walk({ runs }: TwistLane, zero: number, quarter: number, { from, to, xOf, dpr }: Sight): void {
    let [pick, net] = [0, 0]
    for (const { turn, picks } of runs) {
      const end = pick + picks
      if (end >= from) {
        if (pick <= from) this.context.moveTo(xOf(pick), (zero + net * quarter) * dpr)
        this.context.lineTo(xOf(end), (zero + (net + turn * picks) * quarter) * dpr)
      }
      net += turn * picks
      pick = end
      if (pick > to) return
    }
  }
}
