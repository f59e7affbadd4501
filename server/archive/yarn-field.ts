import { MOVEMENTS } from '../../shared/yarn/ledger.ts'
import { PRICE_FOR } from '../yarn/lot-form.ts'
import { binned, field, flag, kept, oneOf, owned, texts, to, type Field } from './field.ts'
import { LENGTH_OF } from './length.ts'
import {
  blend,
  currency,
  day,
  decimal,
  fibreDensity,
  fibreWord,
  hexColour,
  instant,
  labColour,
  number,
  text,
  uid,
} from './value.ts'

const { line, lines, note } = LENGTH_OF
/** More than any form takes: a stock-take may put right the sum of many entries. */
const MOST_SUM_MG = 1_000_000_000_000
const MOST_MINOR = 10_000_000_000_000

/** Of yarn: null where it is not for the reader of the archive. */
const supplier = field('supplier', text(line).nullable())

export const YARN_FIELDS: Readonly<Record<'yarn' | 'lot' | 'movement' | 'fibre_density', readonly Field[]>> = {
  yarn: [
    ...texts(['name', 'count', 'countReading', 'build'], line),
    field('blend', blend()),
    ...['wrapsPerCm', 'diameterMm'].map((key) => field(key, decimal(true).nullable())),
    supplier,
    field('notes', text(note)),
    ...owned,
  ],
  lot: [
    to('yarn', 'yarn'),
    ...texts(['colourName', 'dye', 'mordant', 'dyedBy', 'lotNumber'], line),
    field('colourHex', hexColour()),
    field('colourLab', labColour()),
    field('recipe', text(lines)),
    field('dyedOn', day().nullable()),
    supplier,
    field('priceMinor', number(0, MOST_MINOR).nullable()),
    field('priceCurrency', currency()),
    field('priceFor', oneOf(Object.keys(PRICE_FOR))),
    field('notes', text(note)),
    binned,
    ...kept,
  ],
  movement: [
    to('lot', 'lot'),
    field('kind', oneOf(Object.keys(MOVEMENTS))),
    field('day', day(), { column: 'on_day' }),
    ...['massMg', 'reservedMg'].map((key) => field(key, number(-MOST_SUM_MG, MOST_SUM_MG))),
    ...['expectedMg', 'foundMg'].map((key) => field(key, number(-MOST_SUM_MG, MOST_SUM_MG).nullable())),
    to('piece', 'piece'),
    { ...field('otherLot', uid().nullable(), { column: 'other_lot_id' }), ref: 'lot' },
    to('corrects', 'movement'),
    flag('acceptedBelow'),
    field('note', text(lines)),
    field('createdAt', instant()),
  ],
  fibre_density: [
    field('fibre', fibreWord()),
    field('low', fibreDensity()),
    field('high', fibreDensity().nullable()),
    field('source', text(line).min(1)),
    field('day', day(), { column: 'on_day' }),
    ...kept,
  ],
}
