import { deltaE2000 } from '../../shared/colour/lab.ts'
import { toSignificant } from '../../shared/measure/rounding.ts'
import { dayInWords } from '../../shared/work/time-words.ts'
import { gramsText, MOVEMENTS, runningBalance, sayGrams } from '../../shared/yarn/ledger.ts'
import { greyScaleGrade } from '../../shared/yarn/lot-colour.ts'
import { CAUTIONS } from '../caution.ts'
import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import { renderNote } from '../markdown.ts'
import type { Html, PageHead } from '../pages.ts'
import { hiddenName } from '../rights/allowed.ts'
import type { Movement } from './ledger-queries.ts'
import { PRICE_FOR } from './lot-form.ts'
import { ENTERED_KINDS, TAKES_PIECE, type EnteredKind, type MovementEntered } from './movement-form.ts'
import { priceText } from './price.ts'
import type { ShelfLot } from './queries.ts'
import { balanceText, lotLabel } from './swatch.ts'

declare module '../pages.ts' {
  interface Pages {
    'yarn/lot': LotShowPage
  }
}

interface MovementView {
  readonly id: number
  readonly day: string
  readonly kind: string
  readonly about: string
  readonly piece: { readonly path: string; readonly name: string } | ''
  readonly otherLot: { readonly path: string; readonly name: string } | ''
  /** Grams with their sign; empty where nothing of the kind changes. */
  readonly mass: string
  readonly reserved: string
  readonly onHand: string
  readonly mayCorrect: boolean
}

/** The fields of one movement; those that it has no use for are not shown. */
interface EntryForm {
  readonly kind: string
  readonly label: string
  readonly does: string
  readonly fields: Record<Exclude<keyof MovementEntered, 'kind'>, FieldView>
  readonly takesPiece: boolean
  readonly takesLot: boolean
  readonly asks: string
}

interface LotShowPage extends PageHead {
  readonly id: number
  readonly yarn: { readonly path: string; readonly name: string }
  readonly hex: string
  readonly onHand: string
  readonly reserved: string
  readonly free: string
  readonly isShort: boolean
  readonly facts: readonly { readonly label: string; readonly text: string }[]
  readonly recipe: string
  readonly notes: Html | ''
  readonly movements: readonly MovementView[]
  readonly ways: readonly { readonly path: string; readonly label: string; readonly current: boolean }[]
  readonly form: EntryForm | ''
  readonly colourPath: string
  readonly nearest: readonly NearLot[]
  readonly cautions: readonly string[]
  readonly mayEdit: boolean
  readonly mayOwn: boolean
}

/** A lot beside a colour, and how different the two look. */
export interface NearLot {
  readonly path: string
  readonly name: string
  readonly hex: string
  readonly free: string
  readonly difference: string
  readonly grade: string
}

/** What makes blacks and greys of iron with tannin, as dyers write it. */
const IRON_TANNIN = /\b(?:iron|ferrous|copperas|vitriol|tannin|oak gall|gall|walnut)/i

const signed = (mg: number) => (mg === 0 ? '' : `${mg > 0 ? '+' : ''}${gramsText(mg)}`)

export interface ShownLot {
  readonly lot: ShelfLot
  readonly movements: readonly Movement[]
  readonly pieces: readonly { readonly id: number; readonly name: string }[]
  /** The viewer's own, but for this one. */
  readonly others: readonly ShelfLot[]
  readonly mayEdit: boolean
  readonly mayOwn: boolean
  readonly entered: MovementEntered
  readonly problems?: Problems<MovementEntered>
  readonly notice: string
}

export function lotShowPage(shown: ShownLot): LotShowPage {
  const { lot, movements, mayEdit, mayOwn, entered, notice } = shown
  const form = mayEdit ? entryForm(shown) : ''
  const measured = lot.colourLab === '' ? '' : `${lot.colourLab} (L a b)`
  const price = lot.price && `${priceText(lot.price)} ${lot.price.currency} for ${PRICE_FOR[lot.price.for]}`
  const facts = [
    { label: 'Colour, on a screen', text: lot.colourHex },
    { label: 'Colour, measured', text: measured },
    { label: 'Dye', text: lot.dye },
    { label: 'Mordant', text: lot.mordant },
    {
      label: 'Dyed',
      text: [lot.dyedBy && `by ${lot.dyedBy}`, lot.dyedOn && dayInWords(lot.dyedOn)].filter(Boolean).join(', '),
    },
    { label: 'Lot number', text: lot.lotNumber },
    { label: 'Supplier, seen by you alone', text: lot.supplier },
    { label: 'Price, seen by you alone', text: price ?? '' },
  ]
  const isIronBlack = IRON_TANNIN.test(`${lot.dye} ${lot.mordant} ${lot.recipe}`)
  const isDyed = lot.dye !== '' || lot.mordant !== ''
  return {
    ...{ title: `${lot.yarn.name}, ${lot.colourName}`, section: 'yarns', notice, id: lot.id, mayEdit, mayOwn },
    yarn: { path: `/yarns/${lot.yarnId}`, name: lot.yarn.name },
    ...{ hex: lot.hex, ...balanceText(lot), isShort: lot.onHandMg < 0 || lot.freeMg < 0 },
    facts: facts.filter(({ text }) => text !== ''),
    recipe: lot.recipe,
    notes: lot.notes && renderNote(lot.notes),
    movements: ledgerView(movements, mayEdit),
    ways: ENTERED_KINDS.map((kind) => ({
      ...{ path: `/lots/${lot.id}?do=${kind}#enter`, label: MOVEMENTS[kind].label, current: entered.kind === kind },
    })),
    form,
    colourPath: lot.lab ? `/yarns/colour?lot=${lot.id}` : '',
    nearest: lot.lab ? listNearest(lot.lab, shown.others, 4) : [],
    cautions: [...(isDyed ? [CAUTIONS.dyepot.text] : []), ...(isIronBlack ? [CAUTIONS.ironBlack.text] : [])],
    problems: form === '' ? [] : problemList(form.fields),
  }
}

/** The lots nearest to a colour, by CIEDE2000. */
export function listNearest(lab: NonNullable<ShelfLot['lab']>, lots: readonly ShelfLot[], most: number): NearLot[] {
  const found = lots.flatMap((lot) => (lot.lab ? [{ lot, lab: lot.lab, difference: deltaE2000(lab, lot.lab) }] : []))
  found.sort((left, right) => left.difference - right.difference || left.lot.id - right.lot.id)
  return found.slice(0, most).map(({ lot, lab: other, difference }) => {
    const { grade, words } = greyScaleGrade(lab, other)
    return {
      ...{ path: `/lots/${lot.id}`, name: lotLabel(lot), hex: lot.hex, free: gramsText(lot.freeMg) },
      ...{ difference: difference === 0 ? '0' : toSignificant(difference, 2), grade: `${grade}, ${words}` },
    }
  })
}

function ledgerView(movements: readonly Movement[], mayEdit: boolean): MovementView[] {
  const balances = runningBalance(movements)
  const numbers = new Map(movements.map(({ id }, at) => [id, at + 1]))
  return movements
    .map((movement, at): MovementView => {
      const { kind, pieceId, pieceName, otherLotId, otherLotName, expectedMg, foundMg, correctsId } = movement
      const isOut = movement.massMg < 0
      const said = [
        kind === 'stocktake' && `found ${sayGrams(foundMg ?? 0)}, the ledger said ${sayGrams(expectedMg ?? 0)}`,
        kind === 'used' && expectedMg !== undefined && `${sayGrams(expectedMg)} were reserved`,
        correctsId !== undefined && `entry ${numbers.get(correctsId) ?? ''} should have said ${sayGrams(foundMg ?? 0)}`,
        movement.acceptedBelow && 'entered though the ledger had less',
        movement.note,
      ]
      return {
        ...{ id: movement.id, day: dayInWords(movement.day), kind: `${at + 1} ${MOVEMENTS[kind].label}` },
        about: said.filter(Boolean).join('; '),
        piece:
          pieceId === undefined
            ? ''
            : { path: pieceName && `/pieces/${pieceId}`, name: pieceName || hiddenName('piece') },
        otherLot:
          otherLotId === undefined
            ? ''
            : {
                path: otherLotName && `/lots/${otherLotId}`,
                name: `${isOut ? 'into' : 'out of'} ${otherLotName || hiddenName('lot')}`,
              },
        ...{ mass: signed(movement.massMg), reserved: signed(movement.reservedMg) },
        onHand: gramsText(balances[at]!.onHandMg),
        mayCorrect: mayEdit && kind !== 'correction',
      }
    })
    .reverse()
}

function entryForm({ lot, pieces, others, entered, problems = {} }: ShownLot): EntryForm | '' {
  const kind = ENTERED_KINDS.find((each) => each === entered.kind)
  if (!kind) return ''
  const asks = problems.accept ?? ''
  const specs: Record<Exclude<keyof MovementEntered, 'kind'>, FieldSpec> = {
    grams: { label: kind === 'stocktake' ? 'The scales say, g' : 'How much, g', inputmode: 'decimal', required: true },
    day: { label: 'Day', type: 'date' },
    piece: {
      label: kind === 'reserved' ? 'For which piece' : 'For a piece',
      options: [
        ['', kind === 'reserved' ? 'please choose' : 'none'],
        ...pieces.map(({ id, name }) => [String(id), name] as const),
      ],
    },
    otherLot: {
      label: 'Into which lot',
      options: [['', 'please choose'], ...others.map((other) => [String(other.id), lotLabel(other)] as const)],
    },
    gramsAfter: { label: 'Weight after dyeing, g', inputmode: 'decimal', hint: 'Where it is another than before.' },
    note: { label: 'Note', rows: 2 },
    accept: { label: 'It is so: enter it all the same', control: 'tick' },
  }
  return {
    ...{ kind, label: MOVEMENTS[kind].label, does: doesOf(kind, lot), asks },
    fields: formFields(specs, entered, problems),
    takesPiece: TAKES_PIECE.has(kind),
    takesLot: kind === 'dyed',
  }
}

function doesOf(kind: EnteredKind, lot: ShelfLot): string {
  const { label, does } = MOVEMENTS[kind]
  if (kind === 'stocktake')
    return `${label}: it ${does}. The ledger says ${sayGrams(lot.onHandMg)}; both figures are kept, and the difference is the entry.`
  return `${label}: it ${does}.`
}
