/** How large the band is drawn, how much of it, and which part is in sight; in CSS pixels unless it says so. */
export interface View {
  /** Length of a pick. */
  pickPx: number
  /** What one tablet and one pick measure on the loom. */
  tabletMm: number
  pickMm: number
  /** How many picks are drawn; beyond the draft's own the repeat goes on. */
  picks: number
  /** Of the part of the band that is in sight. */
  widthPx: number
  scrollPx: number
}

/** The usual proportions of the notebook's pictures: middling wool, nothing measured. */
export const USUAL = { tabletMm: 1, pickMm: 0.9 } as const

/** A millimetre of CSS: 96 px to an inch. */
export const PX_PER_MM = 96 / 25.4

export const tabletPxOf = ({ pickPx, tabletMm, pickMm }: View): number => (pickPx * tabletMm) / pickMm

/** One window of whole and begun picks in device pixels: where pick `p` begins is `xOf(p)`. */
export interface Sight {
  readonly dpr: number
  readonly widthDev: number
  readonly pickDev: number
  readonly tabletDev: number
  /** First pick in sight and the one after the last, from 0. */
  readonly from: number
  readonly to: number
  xOf(pick: number): number
  yOf(row: number): number
}

export function sightOf(view: View, dpr: number): Sight {
  const pickDev = view.pickPx * dpr
  const tabletDev = tabletPxOf(view) * dpr
  const offset = Math.round(view.scrollPx * dpr)
  const widthDev = Math.max(1, Math.round(view.widthPx * dpr))
  const from = Math.max(0, Math.floor(offset / pickDev))
  return {
    ...{ dpr, widthDev, pickDev, tabletDev, from },
    to: Math.max(from, Math.min(view.picks, Math.ceil((offset + widthDev) / pickDev))),
    xOf: (pick) => Math.round(pick * pickDev) - offset,
    yOf: (row) => Math.round(row * tabletDev),
  }
}
