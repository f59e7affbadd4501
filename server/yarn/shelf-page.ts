import { gramsText } from '../../shared/yarn/ledger.ts'
import { sayBlend } from '../../shared/yarn/lot-blend.ts'
import { formFields, type FieldSpec, type FieldView } from '../field.ts'
import { readEntered } from '../form.ts'
import type { PageHead } from '../pages.ts'
import type { ShelfLot, Yarn } from './queries.ts'
import { toLotLine, type LotLine } from './swatch.ts'

declare module '../pages.ts' {
  interface Pages {
    'yarn/shelf': ShelfPage
  }
}

interface ShelfPage extends PageHead {
  readonly isEmpty: boolean
  readonly mayAdd: boolean
  readonly fields: Record<'fibre' | 'q' | 'has' | 'sort', FieldView>
  readonly isFiltered: boolean
  /** How many are shown, of how many, and what they weigh together. */
  readonly count: string
  readonly lots: readonly (LotLine & { readonly count: string; readonly blend: string })[]
  /** Yarns without a lot: only in the unfiltered list. */
  readonly bare: readonly { readonly path: string; readonly name: string; readonly about: string }[]
}

const HAS = [
  ['', 'all lots'],
  ['hand', 'on hand'],
  ['free', 'free'],
  ['reserved', 'reserved'],
  ['short', 'short: more promised or gone than there is'],
] as const
const SORTS = [
  ['', 'by yarn'],
  ['colour', 'by colour, round the circle'],
  ['light', 'light to dark'],
  ['free', 'most free first'],
  ['hand', 'most on hand first'],
] as const

const HOLDS: Readonly<Record<string, (lot: ShelfLot) => boolean>> = {
  hand: ({ onHandMg }) => onHandMg > 0,
  free: ({ freeMg }) => freeMg > 0,
  reserved: ({ reservedMg }) => reservedMg > 0,
  short: ({ onHandMg, freeMg }) => onHandMg < 0 || freeMg < 0,
}

/** Greys behind all hues; what has no colour, last. */
const hueOf = ({ lab }: ShelfLot): number => {
  if (!lab) return 1000
  const [, a, b] = lab
  return Math.hypot(a, b) < 4 ? 500 : (Math.atan2(b, a) * 180) / Math.PI + (Math.atan2(b, a) < 0 ? 360 : 0)
}
const ORDERS: Readonly<Record<string, (left: ShelfLot, right: ShelfLot) => number>> = {
  colour: (left, right) => hueOf(left) - hueOf(right),
  light: (left, right) => (right.lab?.[0] ?? -1) - (left.lab?.[0] ?? -1),
  free: (left, right) => right.freeMg - left.freeMg,
  hand: (left, right) => right.onHandMg - left.onHandMg,
}

interface Shelf {
  readonly yarns: readonly Yarn[]
  readonly lots: readonly ShelfLot[]
  readonly query: unknown
  readonly mayAdd: boolean
}

/** The shelf: every lot with its swatch and what is on hand, reserved and free. */
export function shelfPage({ yarns, lots, query, mayAdd }: Shelf, notice: string): ShelfPage {
  const entered = readEntered(query, ['fibre', 'q', 'has', 'sort'])
  const fibres = [...new Set(yarns.flatMap(({ parts }) => parts.map(({ fibre }) => fibre)))].sort()
  const specs: Record<keyof typeof entered, FieldSpec> = {
    q: { label: 'Words', type: 'search' },
    fibre: { label: 'Fibre', options: [['', 'all fibres'], ...fibres.map((fibre) => [fibre, fibre] as const)] },
    has: { label: 'Which lots', options: HAS },
    sort: { label: 'Order', options: SORTS },
  }
  const words = entered.q.trim().toLowerCase().split(/\s+/).filter(Boolean)
  const shown = lots.filter((lot) => {
    const text = textOf(lot)
    const holds = HOLDS[entered.has]?.(lot) ?? true
    const isOfFibre = entered.fibre === '' || lot.yarn.parts.some(({ fibre }) => fibre === entered.fibre)
    return holds && isOfFibre && words.every((word) => text.includes(word))
  })
  const order = ORDERS[entered.sort]
  const sorted = order ? [...shown].sort(order) : shown
  const isFiltered = words.length > 0 || entered.fibre !== '' || entered.has !== ''
  const withLots = new Set(lots.map(({ yarnId }) => yarnId))
  return {
    ...{ title: 'Yarns', section: 'yarns', notice, mayAdd, isFiltered },
    isEmpty: yarns.length === 0,
    fields: formFields(specs, entered),
    count: sayShown(sorted, lots.length),
    lots: sorted.map((lot) => ({ ...toLotLine(lot), count: lot.yarn.count, blend: sayBlend(lot.yarn.parts) })),
    bare: isFiltered
      ? []
      : yarns
          .filter(({ id }) => !withLots.has(id))
          .map(({ id, name, count, parts }) => ({
            ...{ path: `/yarns/${id}`, name },
            about: [count, sayBlend(parts)].filter(Boolean).join(', '),
          })),
  }
}

function textOf({ yarn, ...lot }: ShelfLot): string {
  const words = [yarn.name, yarn.blend, yarn.count, yarn.supplier, lot.colourName, lot.dye, lot.mordant, lot.lotNumber]
  return [...words, lot.dyedBy, lot.supplier].join(' ').toLowerCase()
}

function sayShown(shown: readonly ShelfLot[], all: number): string {
  const sum = (of: 'onHandMg' | 'freeMg') => gramsText(shown.reduce((total, lot) => total + lot[of], 0))
  const lots = `${shown.length} ${shown.length === 1 ? 'lot' : 'lots'}${shown.length < all ? ` of ${all}` : ''}`
  return shown.length === 0 ? lots : `${lots}: ${sum('onHandMg')} g on hand, ${sum('freeMg')} g of it free`
}
