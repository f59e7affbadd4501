import { deltaE2000, hexOfLab, labOfHex, type Lab } from '../../shared/colour/lab.ts'
import { toSignificant } from '../../shared/measure/rounding.ts'
import { greyScaleGrade, readLab } from '../../shared/yarn/lot-colour.ts'
import { formFields, problemList, type FieldView } from '../field.ts'
import { readEntered } from '../form.ts'
import type { PageHead } from '../pages.ts'
import { listNearest, type NearLot } from './lot-page.ts'
import type { ShelfLot } from './queries.ts'
import { lotLabel } from './swatch.ts'

declare module '../pages.ts' {
  interface Pages {
    'yarn/colour': ColourPage
  }
}

interface ColourPage extends PageHead {
  readonly fields: Record<'colour' | 'lot' | 'other', FieldView>
  /** What was asked after; empty before. */
  readonly asked: { readonly name: string; readonly hex: string; readonly lab: string } | ''
  readonly beside:
    { readonly name: string; readonly hex: string; readonly difference: string; readonly grade: string } | ''
  readonly nearest: readonly NearLot[]
}

const MOST = 12

/** Which lots come nearest to a colour, and how far one is from another. */
export function colourPage(lots: readonly ShelfLot[], query: unknown): { shown: ColourPage; status: 200 | 422 } {
  const entered = readEntered(query, ['colour', 'lot', 'other'])
  const coloured = lots.filter(({ lab }) => lab !== undefined)
  const lotOf = (id: string) => coloured.find((lot) => String(lot.id) === id)
  const typed = entered.colour.trim()
  const read = typed === '' ? undefined : readColour(typed)
  const chosen = typed === '' ? lotOf(entered.lot) : undefined
  const lab = read?.lab ?? chosen?.lab
  const other = lotOf(entered.other)
  const options = [['', 'none'] as const, ...coloured.map((lot) => [String(lot.id), lotLabel(lot)] as const)]
  const problems = read && !read.lab ? { colour: read.message } : {}
  const fields = formFields(
    {
      colour: { label: 'A colour', hint: '#9c3b2e, or measured: L a b, as 38.2 41.5 24.', plain: true },
      lot: { label: 'Or the colour of a lot', options },
      other: { label: 'Beside this lot', options },
    },
    entered,
    problems,
  )
  const shown: ColourPage = {
    ...{ title: 'Compare colours', section: 'yarns', fields, problems: problemList(fields) },
    asked: lab ? { name: chosen ? lotLabel(chosen) : typed, hex: hexOfLab(lab), lab: sayLab(lab) } : '',
    beside: lab && other?.lab ? besideView(lab, other, other.lab) : '',
    nearest: lab ? listNearest(lab, chosen ? coloured.filter(({ id }) => id !== chosen.id) : coloured, MOST) : [],
  }
  return { shown, status: read && !read.lab ? 422 : 200 }
}

function besideView(lab: Lab, other: ShelfLot, otherLab: Lab): Exclude<ColourPage['beside'], ''> {
  const { grade, words } = greyScaleGrade(lab, otherLab)
  const difference = deltaE2000(lab, otherLab)
  return {
    ...{ name: lotLabel(other), hex: other.hex, grade: `${grade}, ${words}` },
    difference: difference === 0 ? '0' : toSignificant(difference, 3),
  }
}

function readColour(text: string): { lab: Lab | undefined; message: string } {
  const hex = /^#?([0-9a-f]{6})$/i.exec(text)?.[1]
  if (hex) return { lab: labOfHex(`#${hex.toLowerCase()}`), message: '' }
  const read = readLab(text)
  return read.ok ? { lab: read.lab, message: '' } : { lab: undefined, message: `${read.message} Or #9c3b2e.` }
}

const sayLab = (lab: Lab) => lab.map((value) => value.toFixed(1).replace(/^-0\.0$/, '0.0')).join(' ')
