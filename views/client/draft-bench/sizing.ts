import type { Desk } from './desk.ts'
import { PX_PER_MM, type View } from './view.ts'

/** Most stitches that are drawn, so that a tiled band stays a band and no wall paper of millions. */
const MOST_DRAWN = 1_000_000
const LEAST_PICK_PX = 0.5
const MOST_PICK_PX = 64
const STEP = 1.25
const [LEAST_MM, MOST_MM] = [0.1, 20]
/** On opening, the band is about as high as this at most, and a stitch about as large. */
const USUAL_HEIGHT_PX = 440
const [USUAL_LEAST_PX, USUAL_MOST_PX] = [5, 18]
/** On a phone a stitch is at least so large: a finger is to find it. */
const [NARROW_PX, NARROW_LEAST_PX] = [600, 13]

/** Size, length and proportions of the drawn band. @returns what the buttons do */
export function listenToSizing(
  root: HTMLElement,
  desk: Desk,
  view: View,
  redraw: (keepPick: boolean) => void,
): Readonly<Record<string, () => void>> {
  const find = <E extends HTMLElement>(name: string) => root.querySelector<E>(`[data-bench-${name}]`)!
  const length = find<HTMLInputElement>('length')
  const unit = find<HTMLSelectElement>('length-unit')
  const [tabletMm, pickMm] = [find<HTMLInputElement>('tablet-mm'), find<HTMLInputElement>('pick-mm')]
  const [scale, problem] = [find('scale'), root.querySelector<HTMLElement>('[data-bench-problem="sizing"]')!]

  const zoom = (pickPx: number) => {
    view.pickPx = Math.max(LEAST_PICK_PX, Math.min(MOST_PICK_PX, pickPx))
    say()
    redraw(true)
  }
  const say = () => {
    const share = view.pickPx / (view.pickMm * PX_PER_MM)
    const wide = (desk.bench.tablets.length * view.tabletMm).toFixed(1)
    const long = (view.picks * view.pickMm).toFixed(0)
    const size =
      Math.abs(share - 1) < 0.005
        ? 'True size, if this screen keeps to 96 dots an inch: hold a ruler to it'
        : `${share.toPrecision(2)} times true size`
    scale.textContent = `${size}. The band drawn is ${wide} mm wide and ${long} mm long at these proportions, which are set here and not measured.`
  }
  const measure = () => {
    const [tablet, pick, many] = [tabletMm, pickMm, length].map(({ value }) => Number(value.replace(',', '.'))) as [
      number,
      number,
      number,
    ]
    const isMm = (value: number) => value >= LEAST_MM && value <= MOST_MM
    refuse(tabletMm, !isMm(tablet))
    refuse(pickMm, !isMm(pick))
    refuse(length, !(many > 0))
    if (isMm(tablet)) view.tabletMm = tablet
    if (isMm(pick)) view.pickMm = pick
    problem.textContent = [
      ...(isMm(tablet) && isMm(pick) ? [] : [`A tablet and a pick are from ${LEAST_MM} to ${MOST_MM} mm.`]),
      ...(many > 0 ? [] : ['What is drawn is a number above 0, of repeats or of mm.']),
    ].join(' ')
    problem.hidden = problem.textContent === ''
    const { tablets, picks } = desk.bench.turning
    const wanted = many > 0 ? (unit.value === 'mm' ? many / view.pickMm : many * picks) : picks
    view.picks = Math.max(1, Math.min(Math.round(wanted), Math.max(picks, Math.floor(MOST_DRAWN / tablets))))
    say()
  }
  for (const field of [length, unit, tabletMm, pickMm]) {
    field.addEventListener('change', () => {
      measure()
      redraw(true)
    })
  }
  /** A short repeat is drawn as often as there is room for, for a band is what one wants to see. */
  const fill = () => {
    const { picks } = desk.bench.turning
    length.value = String(Math.max(1, Math.min(40, Math.ceil(view.widthPx / (picks * view.pickPx) - 0.2))))
    measure()
  }
  const fit = () => {
    const { tablets, picks } = desk.bench.turning
    const high = (USUAL_HEIGHT_PX / tablets) * (view.pickMm / view.tabletMm)
    const least = view.widthPx < NARROW_PX ? NARROW_LEAST_PX : USUAL_LEAST_PX
    zoom(Math.min(Math.max(view.widthPx / picks, least), USUAL_MOST_PX, Math.max(high, least / 2, 1)))
  }
  desk.listen((news) => {
    if (news.kind === 'edit' && news.followed.resized) measure()
  })
  measure()
  return {
    smaller: () => zoom(view.pickPx / STEP),
    larger: () => zoom(view.pickPx * STEP),
    trueSize: () => zoom(view.pickMm * PX_PER_MM),
    fit,
    open() {
      fit()
      fill()
      redraw(false)
    },
  }
}

function refuse(field: HTMLElement, wrong: boolean): void {
  if (wrong) field.setAttribute('aria-invalid', 'true')
  else field.removeAttribute('aria-invalid')
}

/** Whether the cell under the cursor is in sight; else how far to scroll. */
export function scrollFor(view: View, pick: number): number | undefined {
  const left = pick * view.pickPx
  if (left < view.scrollPx) return Math.max(0, left - 2 * view.pickPx)
  if (left + view.pickPx > view.scrollPx + view.widthPx) return left + 3 * view.pickPx - view.widthPx
  return undefined
}
