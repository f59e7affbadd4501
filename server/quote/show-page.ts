import { MATERIALS, materialFields, QUOTE_STAGES, stageFields } from '../../shared/price/quote-entry.ts'
import type { ReadQuoteForm } from './form.ts'
import { CASE_LABELS, quoteStageLabel } from '../../shared/price/quote-rows.ts'
import { quoteSheet, type QuoteSheet } from '../../shared/price/quote-sheet.ts'
import { sayMoney } from '../../shared/price/money.ts'
import { sayHours } from '../../shared/price/say-quote.ts'
import type { Shown, ShownRow } from '../../shared/plan/say.ts'
import { dayInWords } from '../../shared/work/time-words.ts'
import { gramsText } from '../../shared/yarn/ledger.ts'
import { CAUTIONS } from '../caution.ts'
import type { QuoteState } from '../db/quote-tables.ts'
import { formFields, problemList, type FieldView } from '../field.ts'
import type { PageHead } from '../pages.ts'
import type { QuotedAndActual } from './actual.ts'
import { QUOTE_SPECS } from './fields.ts'
import type { Quote, SentVersion } from './queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'quote/show': QuoteShowPage
  }
}

/** The columns of each table; the first is that of the row heads. */
const CASE_HEADS = [CASE_LABELS.low, CASE_LABELS.likely, CASE_LABELS.high]
const TABLES = {
  hours: ['Stage', 'Hours', 'An hour', ...CASE_HEADS],
  materials: ['Material', 'Grams', 'To buy it again', 'Amount'],
  build: ['From hours to a price', ...CASE_HEADS],
  asked: ['From the price to what is paid', ...CASE_HEADS, 'As asked'],
  wages: ['Case', 'Hours', 'What the price leaves for an hour'],
  payments: ['When', 'Share', 'Amount'],
} as const
type TableName = keyof typeof TABLES

interface TableView {
  readonly key: string
  readonly columns: readonly string[]
  readonly rows: readonly (Omit<ShownRow, 'cells'> & {
    readonly cells: readonly (Shown & { readonly label: string })[]
  })[]
}

export interface AfterView {
  readonly stages: readonly { readonly label: string; readonly quoted: string; readonly actual: string }[]
  readonly lots: readonly { readonly name: string; readonly used: string; readonly amount: string }[]
  readonly materials: string
  readonly wage: string
  readonly says: string
}

interface QuoteShowPage extends PageHead {
  readonly id: number
  readonly kicker: string
  readonly lead: string
  readonly state: QuoteState
  readonly mayChange: boolean
  readonly isDraft: boolean
  readonly isSent: boolean
  readonly version: string
  readonly big: readonly {
    readonly key: string
    readonly label: string
    readonly base: string
    readonly shown: Shown
  }[]
  readonly tables: Readonly<Record<TableName, TableView>>
  readonly says: QuoteSheet['says']
  readonly fields: Readonly<Record<string, FieldView>>
  readonly stages: readonly { readonly hours: FieldView; readonly rate: FieldView }[]
  readonly materials: readonly Readonly<Record<'name' | 'grams' | 'price' | 'unit', FieldView>>[]
  readonly sent: readonly { readonly path: string; readonly text: string }[]
  readonly piece: { readonly id: number; readonly name: string } | ''
  readonly pieceField: FieldView
  readonly dayField: FieldView
  readonly after: AfterView | ''
  readonly laws: readonly string[]
  readonly labelling: string
  readonly mayForecast: boolean
}

export interface ShownQuote extends ReadQuoteForm {
  readonly quote: Quote
  readonly sent: readonly SentVersion[]
  readonly version: string
  /** Whether problems are told at the head as well: after a button, not on opening. */
  readonly isAsked: boolean
  readonly pieces: readonly { readonly id: number; readonly name: string }[]
  readonly after: QuotedAndActual | undefined
  readonly today: string
  readonly notice: string
}

export const STATE_WORDS: Readonly<Record<QuoteState, string>> = {
  ...{ draft: 'not sent', sent: 'sent', accepted: 'accepted', declined: 'declined', lapsed: 'lapsed' },
  withdrawn: 'withdrawn',
}

export function quoteShowPage(shown: ShownQuote): QuoteShowPage {
  const { quote, entered, problems, pieces } = shown
  const { sheet } = quoteSheet(entered)
  const fields = formFields(QUOTE_SPECS, entered, problems)
  const field = (name: string): FieldView => fields[name]!
  const isEstimate = entered.binding !== 'quote'
  const mayChange = quote.state === 'draft' || quote.state === 'sent'
  const piece = pieces.find(({ id }) => id === quote.pieceId)
  const title = (entered.title ?? '').trim() || 'A woven band'
  const options = [['', 'no piece yet'] as const, ...pieces.map(({ id, name }) => [String(id), name] as const)]
  const extra = formFields(
    { piece: { label: 'Woven as', options }, day: { label: 'On', type: 'date' } },
    { piece: String(quote.pieceId ?? ''), day: shown.today },
  )
  return {
    ...{ title, section: 'pieces', scripts: ['quote'], notice: shown.notice, id: quote.id, version: shown.version },
    kicker: `${isEstimate ? 'Estimate' : 'Quote'}${quote.number ? ` ${quote.number}` : ''} · ${stateText(quote, entered['valid-until'] ?? '', shown.today)}`,
    lead: (entered.client ?? '').trim() ? `For ${(entered.client ?? '').trim()}.` : 'For whom is not said yet.',
    state: quote.state,
    isDraft: quote.state === 'draft',
    isSent: quote.state !== 'draft',
    mayChange,
    mayForecast: quote.pieceId !== undefined || quote.revisionId !== undefined,
    big: [
      { key: 'total', label: 'To pay', base: 'with shipping and tax', shown: bare(sheet.figures.total, mayChange) },
      { key: 'hours', label: 'Hours', base: 'likely', shown: bare(sheet.figures.hours, mayChange) },
      {
        key: 'wage',
        label: 'It leaves',
        base: 'an hour, in the likely case',
        shown: bare(sheet.figures.wage, mayChange),
      },
    ],
    tables: Object.fromEntries(
      (Object.keys(TABLES) as TableName[]).map((key) => [key, tableView(key, sheet[key], mayChange)]),
    ) as unknown as QuoteShowPage['tables'],
    says: sheet.says,
    fields,
    stages: QUOTE_STAGES.map((stage) => ({
      hours: field(stageFields(stage).hours),
      // Read alone, a rate says of which stage it is.
      rate: { ...field(stageFields(stage).rate), label: `Rate of its own: ${quoteStageLabel(stage).toLowerCase()}` },
    })),
    materials: MATERIALS.map((at) => {
      const names = materialFields(at)
      return { name: field(names.name), grams: field(names.grams), price: field(names.price), unit: field(names.unit) }
    }),
    sent: shown.sent.map(({ number, sentOn }) => ({
      path: `/quotes/${quote.id}/versions/${number}`,
      text: `Version ${number}, sent on ${dayInWords(sentOn)}`,
    })),
    piece: piece ?? '',
    ...{ pieceField: extra.piece, dayField: extra.day },
    after: shown.after ? afterView(shown.after) : '',
    laws: LAWS,
    labelling: CAUTIONS.labelling.text,
    problems: shown.isAsked ? problemList(fields) : [],
  }
}

/** What differs by place, and whom to ask: names of laws, never what they would mean for somebody. */
const LAWS = [
  'What a consumer may do after ordering differs from place to place. In the United Kingdom, for one, goods made to somebody’s own specification are outside the 14-day right to cancel (Consumer Contracts Regulations 2013, reg. 28): tell the client, and check the local rule with an advice centre for consumers.',
  'Whether tax is due on your work, and at which rate, your tax office says; a quote is no invoice.',
  'Whether a band made to order for one person needs a label of its fibres is not the same everywhere: in the European Union Regulation (EU) No 1007/2011 leaves out some customised products, and whether yours is one has to be asked. In the United States the Textile and the Wool Acts are looked after by the Federal Trade Commission. Check the local rule.',
]

function stateText(quote: Quote, validUntil: string, today: string): string {
  const { state, answeredOn, sent } = quote
  if (answeredOn !== undefined) return `${STATE_WORDS[state]} on ${dayInWords(answeredOn)}`
  if (state !== 'sent') return STATE_WORDS[state]
  const isLate = /^\d{4}-\d{2}-\d{2}$/.test(validUntil) && validUntil < today
  return `version ${sent} sent, no answer yet${isLate ? `; its day, ${dayInWords(validUntil)}, is past` : ''}`
}

/** Where nothing can be changed any more, no number leads to a field. */
const bare = (cell: Shown, mayChange: boolean): Shown => (mayChange ? cell : { ...cell, field: '' })

function tableView(key: TableName, rows: readonly ShownRow[], mayChange: boolean): TableView {
  const columns: readonly string[] = TABLES[key]
  return {
    key,
    columns,
    rows: rows.map((row) => ({
      ...row,
      cells: row.cells.map((cell, at) => ({ ...bare(cell, mayChange), label: columns[at + 1] ?? '' })),
    })),
  }
}

function afterView(held: QuotedAndActual): AfterView {
  const say = (minor: bigint) => sayMoney(minor, held.currency)
  const row = (label: string, quoted: bigint, actual: bigint) => ({
    ...{ label, quoted: sayHours(quoted), actual: sayHours(actual) },
  })
  const missing =
    held.unpriced.length === 0
      ? ''
      : ` Without a price by mass in ${held.currency}, and so not in the sum: ${held.unpriced.join(', ')}.`
  const none = held.lots.length === 0 ? ' No ledger says what was used, so those of the quote are taken.' : ''
  return {
    stages: [
      ...held.stages.map(({ stage, quoted, actual }) => row(quoteStageLabel(stage), quoted, actual)),
      row('All stages', held.quotedHours, held.actualHours),
    ],
    lots: held.lots.map(({ name, usedMg, amount }) => ({
      ...{ name, used: `${gramsText(usedMg)} g`, amount: amount === null ? 'no price' : say(amount) },
    })),
    materials: `Materials: quoted ${say(held.quotedMaterials)}, used ${say(held.actualMaterials)} at today’s price of the lots.${none}${missing}`,
    wage: held.realWage === null ? 'nothing that could be said' : say(held.realWage),
    says: `${say(held.paid)} for the work − ${say(held.actualMaterials)} materials − ${say(held.overhead)} overhead, over ${sayHours(held.actualHours)}${held.quotedWage === null ? '' : `; quoted was ${say(held.quotedWage)} an hour`}.`,
  }
}
