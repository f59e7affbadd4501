import { dayInWords } from '../../shared/work/time-words.ts'
import { MOVEMENTS, sayGrams } from '../../shared/yarn/ledger.ts'
import { formFields, problemList, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import type { PageHead } from '../pages.ts'
import type { Movement } from './ledger-queries.ts'
import type { CorrectionEntered } from './movement-form.ts'
import type { ShelfLot } from './queries.ts'
import { lotLabel } from './swatch.ts'

declare module '../pages.ts' {
  interface Pages {
    'yarn/correct': CorrectionPage
  }
}

interface CorrectionPage extends PageHead {
  readonly lotId: number
  readonly lotName: string
  readonly movementId: number
  readonly said: string
  readonly asks: string
  /** A later stock-take has put the sum right already. */
  readonly isWeighedSince: boolean
  readonly fields: Record<keyof CorrectionEntered, FieldView>
}

interface Shown {
  readonly lot: ShelfLot
  readonly movement: Movement
  readonly movements: readonly Movement[]
  readonly entered: CorrectionEntered
  readonly problems?: Problems<CorrectionEntered>
}

/** The form of a correction: an entry of its own, that points at the one that it puts right. */
export function correctionPage({ lot, movement, movements, entered, problems = {} }: Shown): CorrectionPage {
  const figure = movement.foundMg ?? Math.abs(movement.massMg || movement.reservedMg)
  const fields = formFields(
    {
      grams: { label: 'It should have said, g', inputmode: 'decimal', required: true, hint: '0 takes it back.' },
      day: { label: 'Day of the correction', type: 'date' },
      note: { label: 'What was wrong', required: true, rows: 2 },
      accept: { label: 'It is so: enter it all the same', control: 'tick' },
    },
    entered,
    problems,
  )
  return {
    ...{ title: 'Correct an entry', section: 'yarns', lotId: lot.id, lotName: lotLabel(lot), movementId: movement.id },
    said: `${MOVEMENTS[movement.kind].label}, ${dayInWords(movement.day)}: ${sayGrams(figure)}${movement.note ? `; ${movement.note}` : ''}.`,
    asks: problems.accept ?? '',
    isWeighedSince:
      movement.kind !== 'stocktake' && movements.some(({ kind, id }) => kind === 'stocktake' && id > movement.id),
    fields,
    problems: problemList(fields),
  }
}
