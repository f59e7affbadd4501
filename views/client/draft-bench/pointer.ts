import { listPacks } from '../../../shared/draft/packs.ts'
import { paintBlock } from '../../../shared/draft/edit/turn-edit.ts'
import type { Desk, Place } from './desk.ts'
import type { Hand } from './keys.ts'
import type { BandPane } from './panes.ts'

/**
 * Pointer and finger on the band. With a turn in the hand a drag or a tap paints; else it marks. A finger that only
 * marks leaves the scrolling to the browser, so it marks by taps.
 */
export function listenToPointer(pane: BandPane, grid: HTMLElement, desk: Desk, hand: Hand, show: () => void): void {
  const { cloth } = pane
  let from: Place | undefined
  let last: Place | undefined
  let packs: readonly number[][] = []
  const fingers = new Set<number>()

  const canPaint = () => pane.name !== 'reverse' && hand.brush() !== undefined
  const stroke = (to: Place) => {
    const places = line(last ?? to, to)
    const joins = last !== undefined
    let edit = false
    for (const { tablet, pick } of places) {
      const tablets = packs.find((pack) => pack.includes(tablet + 1))?.map((one) => one - 1) ?? [tablet]
      edit = desk.make(paintBlock(desk.bench, { tablets, from: pick, to: pick }, hand.brush()!), joins && begun) || edit
      begun ||= edit
    }
    last = to
    desk.setMark({ anchor: to, cursor: to })
  }
  let begun = false

  cloth.addEventListener('pointerdown', (event) => {
    fingers.add(event.pointerId)
    if (event.button !== 0 || fingers.size > 1) return void (from = last = undefined)
    const place = pane.placeAt(event.clientX, event.clientY)
    if (event.pointerType === 'touch' && !canPaint()) return void (from = place)
    event.preventDefault()
    grid.focus({ preventScroll: true })
    cloth.setPointerCapture(event.pointerId)
    from = event.shiftKey ? desk.mark.anchor : place
    begun = false
    last = undefined
    packs = hand.packs() ? listPacks(desk.bench.turning) : []
    if (canPaint()) stroke(place)
    else desk.setMark({ anchor: from, cursor: place })
    show()
  })
  cloth.addEventListener('pointermove', (event) => {
    if (!from || !cloth.hasPointerCapture(event.pointerId)) return
    const points = event.getCoalescedEvents?.() ?? []
    const place = pane.placeAt(event.clientX, event.clientY)
    if (canPaint()) {
      for (const point of points) step(pane.placeAt(point.clientX, point.clientY))
      step(place)
    } else desk.setMark({ anchor: from, cursor: place })
  })
  const step = (place: Place) => {
    if (last && (last.tablet !== place.tablet || last.pick !== place.pick)) stroke(place)
  }
  const end = (event: PointerEvent) => {
    fingers.delete(event.pointerId)
    if (!from) return
    if (event.pointerType === 'touch' && last === undefined && event.type === 'pointerup' && !canPaint()) {
      grid.focus({ preventScroll: true })
      desk.setMark({ anchor: from, cursor: from })
    }
    if (begun) {
      desk.tell(`Done: ${desk.history.done!.edit.label}.`)
      desk.settle()
    }
    from = last = undefined
    begun = false
    show()
  }
  cloth.addEventListener('pointerup', end)
  cloth.addEventListener('pointercancel', end)
}

/** The turns that a hand passes over between two places, both included; fast movement leaves no gaps. */
function line(from: Place, to: Place): Place[] {
  const steps = Math.max(Math.abs(to.tablet - from.tablet), Math.abs(to.pick - from.pick))
  if (steps === 0) return [to]
  return Array.from({ length: steps }, (_, at) => ({
    tablet: Math.round(from.tablet + ((to.tablet - from.tablet) * (at + 1)) / steps),
    pick: Math.round(from.pick + ((to.pick - from.pick) * (at + 1)) / steps),
  }))
}
