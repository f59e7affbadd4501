import { CAUTIONS } from '../caution.ts'
import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import type { PageHead } from '../pages.ts'
import { PRICE_FOR, type LotEntered } from './lot-form.ts'
import type { ShelfLot, Yarn } from './queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'yarn/lot-edit': LotEditPage
  }
}

interface LotEditPage extends PageHead {
  readonly yarn: { readonly id: number; readonly name: string }
  readonly action: string
  readonly back: string
  readonly fields: Record<keyof LotEntered, FieldView>
  readonly cautions: readonly string[]
  readonly problems: readonly { href: string; text: string }[]
}

const SPECS: Record<keyof LotEntered, FieldSpec> = {
  colourName: { label: 'Colour', required: true, hint: 'Such as madder red, or undyed.' },
  colourHex: { label: 'On a screen', hint: '# and six of 0-9 and a-f: #9c3b2e.', plain: true },
  colourLab: { label: 'Measured, CIELAB', hint: 'L a b under D65: 38.2 41.5 24. It goes before the screen colour.' },
  dye: { label: 'Dye' },
  mordant: { label: 'Mordant' },
  recipe: { label: 'Recipe', rows: 5, hint: 'Weights, baths, temperatures, times: what the next bath needs.' },
  dyedBy: { label: 'Dyed by' },
  dyedOn: { label: 'Dyed on', type: 'date' },
  lotNumber: { label: 'Lot number', plain: true },
  supplier: { label: 'Supplier', hint: 'Seen by you alone, as the price is.' },
  price: { label: 'Price', inputmode: 'decimal' },
  priceCurrency: { label: 'Currency', hint: 'Three letters: EUR.', plain: true },
  priceFor: { label: 'The price is for', options: Object.entries(PRICE_FOR) },
  notes: { label: 'Notes', rows: 5, hint: 'Markdown: *emphasis*, - lists, > quotations.' },
}

export const BLANK_LOT: LotEntered = {
  ...{ colourName: '', colourHex: '', colourLab: '', dye: '', mordant: '', recipe: '', dyedBy: '', dyedOn: '' },
  ...{ lotNumber: '', supplier: '', price: '', priceCurrency: '', priceFor: '', notes: '' },
}

export function lotEditPage(
  { yarn, lot }: { readonly yarn: Yarn; readonly lot: ShelfLot | undefined },
  entered: LotEntered,
  problems: Problems<LotEntered> = {},
): LotEditPage {
  const fields = formFields(SPECS, entered, problems)
  return {
    title: lot ? `Edit lot: ${lot.colourName}` : 'New lot',
    section: 'yarns',
    yarn: { id: yarn.id, name: yarn.name },
    action: lot ? `/lots/${lot.id}` : `/yarns/${yarn.id}/lots`,
    back: lot ? `/lots/${lot.id}` : `/yarns/${yarn.id}`,
    fields,
    cautions: [CAUTIONS.dyepot.text, CAUTIONS.ironBlack.text],
    problems: problemList(fields),
  }
}
