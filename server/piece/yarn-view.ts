import type { Colour, ColourKey } from '../../shared/draft/draft.ts'
import { COUNT_SYSTEMS } from '../../shared/yarn/count.ts'
import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import { hiddenName } from '../rights/allowed.ts'
import type { ShelfLot } from '../yarn/queries.ts'
import { lotLabel } from '../yarn/swatch.ts'
import { BLANK_YARN, COUNT_SYSTEM_KEYS, MOST_YARNS, SPARE_ROWS, toTex } from './yarn-form.ts'
import type { PieceYarn, YarnEntered, YarnProblems } from './yarn-form.ts'

type Colours = Readonly<Record<ColourKey, Colour>>

export interface YarnView {
  readonly role: string
  readonly yarn: string
  /** Empty, or the colour of the draft that it weaves; without `hex` when the draft has no such colour. */
  readonly colour: { readonly name: string; readonly hex: string } | ''
  /** Without a path where the viewer may not see it. */
  readonly lot: { readonly path: string; readonly name: string; readonly hex: string } | ''
  readonly count: string
  readonly tex: string
  readonly resultantTex: string
}

/** The yarns of a piece for its page, with the tex that their counts amount to. */
export function toYarnViews(yarns: readonly PieceYarn[], colours: Colours, lots: readonly ShelfLot[]): YarnView[] {
  return yarns.map((yarn) => {
    const tex = toTex(yarn)
    return {
      role: yarn.role,
      yarn: yarn.yarn,
      lot: toLotView(yarn.lotId, lots),
      colour: yarn.colourKey && (colours[yarn.colourKey] ?? { name: yarn.colourKey, hex: '' }),
      count: yarn.count === undefined ? '' : toCountWords(yarn),
      tex: tex ? roundTex(tex.tex) : '',
      resultantTex: tex ? roundTex(tex.resultantTex) : '',
    }
  })
}

function toLotView(lotId: number | undefined, lots: readonly ShelfLot[]): YarnView['lot'] {
  if (lotId === undefined) return ''
  const lot = lots.find(({ id }) => id === lotId)
  return lot
    ? { path: `/lots/${lot.id}`, name: lotLabel(lot), hex: lot.hex }
    : { path: '', name: hiddenName('lot'), hex: '' }
}

const toCountWords = ({ count, countSystem, ply }: PieceYarn) =>
  `${count} ${COUNT_SYSTEMS[countSystem].label}${ply > 1 ? `, ${ply}-ply` : ', single'}`

/** Three figures are as many as a spun yarn ever bears out; the count itself stays as it was typed. */
function roundTex(tex: number): string {
  return tex >= 100 ? tex.toFixed(0) : String(Number(tex.toPrecision(3)))
}

export interface YarnRowView {
  readonly number: number
  readonly fields: Record<keyof YarnEntered, FieldView>
}

export interface YarnRowsView {
  readonly rows: readonly YarnRowView[]
  readonly problems: readonly { href: string; text: string }[]
  /** Of the draft chosen. */
  readonly colours: readonly { key: string; name: string; hex: string }[]
}

/** The rows of the form: those filled, and spare ones below. */
export function yarnRowsView(
  entered: readonly YarnEntered[],
  problems: readonly YarnProblems[],
  colours: Colours,
  lots: readonly ShelfLot[],
): YarnRowsView {
  const spare = Math.min(SPARE_ROWS, MOST_YARNS - entered.length)
  const typed = [...entered, ...Array.from({ length: spare }, () => BLANK_YARN)]
  const rows = typed.map((row, at) => ({
    number: at + 1,
    fields: rowFields(row, at, problems[at] ?? {}, { colours, lots }),
  }))
  return {
    rows,
    problems: rows.flatMap(({ number, fields }) =>
      problemList(fields).map(({ href, text }) => ({ href, text: `Yarn ${number}, ${text}` })),
    ),
    colours: Object.entries(colours).map(([key, { name, hex }]) => ({ key, name: name || key, hex })),
  }
}

function rowFields(
  row: YarnEntered,
  at: number,
  problems: YarnProblems,
  { colours, lots }: { readonly colours: Colours; readonly lots: readonly ShelfLot[] },
) {
  const choices = Object.entries(colours).map(([key, { name }]) => [key, name ? `${name} (${key})` : key] as const)
  const isHidden = row.lot !== '' && !lots.some(({ id }) => String(id) === row.lot)
  const stray = row.colourKey !== '' && !Object.hasOwn(colours, row.colourKey)
  const specs: Record<keyof YarnEntered, FieldSpec> = {
    role: { label: 'Role' },
    yarn: { label: 'Yarn' },
    count: { label: 'Count', inputmode: 'decimal' },
    countSystem: { label: 'in', options: COUNT_SYSTEM_KEYS.map((key) => [key, COUNT_SYSTEMS[key].label] as const) },
    ply: { label: 'Plies', inputmode: 'numeric' },
    colourKey: {
      label: 'Weaves the colour',
      options: [
        ['', 'none'],
        ...choices,
        ...(stray ? [[row.colourKey, `${row.colourKey}, not in this draft`] as const] : []),
      ],
    },
    lot: {
      label: 'From the lot',
      options: [
        ['', 'none'],
        ...lots.map((lot) => [String(lot.id), lotLabel(lot)] as const),
        ...(isHidden ? [[row.lot, hiddenName('lot')] as const] : []),
      ],
    },
  }
  const fields = {} as Record<keyof YarnEntered, FieldView>
  for (const name of Object.keys(specs) as (keyof YarnEntered)[]) {
    const key = `${name}-${at}`
    fields[name] = formFields({ [key]: specs[name] }, { [key]: row[name] }, { [key]: problems[name] ?? '' })[key]!
  }
  return fields
}

/** Yarns as they would be typed. */
export const toYarnRows = (yarns: readonly PieceYarn[]): YarnEntered[] =>
  yarns.map(({ count, ply, lotId, ...rest }) => ({
    ...{ ...rest, count: count ?? '', ply: String(ply), lot: lotId === undefined ? '' : String(lotId) },
  }))
