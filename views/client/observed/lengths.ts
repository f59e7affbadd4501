import type { Corners, Point } from '../../../shared/observed/homography.ts'
import { type ScaleBar, type StretchSize, stretchSize } from '../../../shared/observed/scale.ts'

const NAMES = {
  corners: 'where the four corners were put',
  barEnds: 'where the ends of the scale were put',
  barLength: 'how exact the scale is',
  view: 'sides that differ, so that the view is not square',
} as const

export type Bars = readonly [readonly [Point, Point], readonly [Point, Point]]

/** Lengths of the stretch from the scale that lies beside it, with where their uncertainty comes from. */
export function lengthsPanel(
  root: HTMLElement,
  now: () => { corners: Corners; bars: Bars; picks: number } | undefined,
) {
  const find = <E extends HTMLElement>(name: string) => root.querySelector<E>(`[data-${name}]`)
  const number = (input: HTMLInputElement | null) => {
    const text = input?.value.trim().replace(',', '.') ?? ''
    return /^\d+(\.\d+)?$/.test(text) ? Number(text) : undefined
  }
  const inputOf = (name: string, bar: number) => root.querySelector<HTMLInputElement>(`[data-${name}="${bar}"]`)
  const has = (bar: 0 | 1) => number(inputOf('bar-length', bar)) !== undefined

  const show = () => {
    const [status, list, form] = [find('scale-status'), find('components'), find<HTMLFormElement>('claim')]
    const marked = now()
    if (!status || !list || !marked) return
    const bars = marked.bars.flatMap(([from, to], at): ScaleBar[] => {
      const lengthMm = number(inputOf('bar-length', at))
      return lengthMm ? [{ from, to, lengthMm, toleranceMm: number(inputOf('bar-tolerance', at)) ?? 0 }] : []
    })
    const size =
      bars.length === 0 ? 'Say how long S1 to S2 is.' : sized(marked.corners, bars, number(find('placing')) ?? 1)
    if (form) form.hidden = typeof size === 'string'
    status.textContent = typeof size === 'string' ? size : sayLengths(size, marked.picks)
    list.replaceChildren(...(typeof size === 'string' ? [] : size.components.map(componentRow)))
    if (form && typeof size !== 'string') fillClaims(form, size, marked.picks, bars)
  }
  root.addEventListener('input', show)
  return { show, has }
}

function sized(corners: Corners, bars: ScaleBar[], placingPx: number): StretchSize | string {
  try {
    return stretchSize(corners, bars, placingPx)
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
    return bars.length === 2
      ? 'Nothing can be worked out so: lay the second scale at an angle to the first, or take it away.'
      : 'Nothing can be worked out so: put the ends of the scale apart.'
  }
}

const digits = (u: number) => Math.max(0, Math.min(6, 1 - Math.floor(Math.log10(Math.max(u, 1e-6)))))
const round = (value: number, u: number) => value.toFixed(digits(u))

function sayLengths({ lengthMm, uLengthMm, widthMm, uWidthMm, proportions }: StretchSize, picks: number): string {
  const perCm = (10 * picks) / lengthMm
  const u = (perCm * uLengthMm) / lengthMm
  const basis = proportions === 'measured' ? 'by both scales' : 'taking the view for square'
  return (
    `Stretch ${round(lengthMm, uLengthMm)} mm long (u = ${round(uLengthMm, uLengthMm)} mm), ` +
    `band ${round(widthMm, uWidthMm)} mm wide (u = ${round(uWidthMm, uWidthMm)} mm), ` +
    `${round(perCm, u)} picks per cm (u = ${round(u, u)}), ${basis}. u is one standard uncertainty.`
  )
}

function componentRow({ name, uLengthMm, uWidthMm }: StretchSize['components'][number]): HTMLLIElement {
  const item = document.createElement('li')
  item.textContent = `${NAMES[name]}: ${uLengthMm.toPrecision(2)} mm of the length, ${uWidthMm.toPrecision(2)} mm of the width`
  return item
}

function fillClaims(form: HTMLFormElement, size: StretchSize, picks: number, bars: readonly ScaleBar[]): void {
  const perCm = (10 * picks) / size.lengthMm
  const claims: Readonly<Record<string, readonly [value: number, u: number, unit: string]>> = {
    width: [size.widthMm, size.uWidthMm, 'mm'],
    picksPerCm: [perCm, (perCm * size.uLengthMm) / size.lengthMm, 'perCm'],
  }
  const scale = bars.map(({ lengthMm, toleranceMm }) => `${lengthMm} ± ${toleranceMm} mm`).join(' and ')
  for (const button of form.querySelectorAll<HTMLButtonElement>('[data-claim-feature]')) {
    button.onclick = () => {
      const [value, u, unit] = claims[button.value]!
      const set = (name: string, text: string) => {
        const input = form.querySelector<HTMLInputElement>(`[data-claim-${name}]`)
        if (input) input.value = text
      }
      set('value', round(value, u))
      set('u', u.toFixed(Math.min(12, digits(u))))
      set('unit', unit)
      set('locator', `scale in the photograph, ${scale}`)
    }
  }
}
