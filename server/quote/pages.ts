import { sayMoney } from '../../shared/price/money.ts'
import type { QuotePaper } from '../../shared/price/quote-paper.ts'
import { QUOTE_STAGES, stageFields } from '../../shared/price/quote-entry.ts'
import { quoteStageLabel } from '../../shared/price/quote-rows.ts'
import { quoteSheet } from '../../shared/price/quote-sheet.ts'
import { sayHours } from '../../shared/price/say-quote.ts'
import { formFields, problemList, type FieldView } from '../field.ts'
import type { PageHead } from '../pages.ts'
import { QUOTE_SPECS } from './fields.ts'
import type { ReadQuoteForm } from './form.ts'
import type { Quote } from './queries.ts'
import type { ResultRow, Results } from './results.ts'
import { STATE_WORDS } from './show-page.ts'

declare module '../pages.ts' {
  interface Pages {
    'quote/list': QuoteListPage
    'quote/new': QuoteNewPage
    'quote/paper': QuotePaperPage
    'quote/terms': QuoteTermsPage
    'quote/results': QuoteResultsPage
  }
}

interface QuoteListPage extends PageHead {
  readonly quotes: readonly {
    readonly path: string
    readonly title: string
    readonly client: string
    readonly number: string
    readonly state: string
    readonly total: string
    readonly hours: string
  }[]
}

export function quoteListPage(quotes: readonly Quote[], notice: string): QuoteListPage {
  return {
    ...{ title: 'Quotes', section: 'pieces', notice },
    quotes: quotes.map(({ id, entered, number, state }) => {
      const { figures, wants } = quoteSheet(entered)
      return {
        path: `/quotes/${id}`,
        title: (entered.title ?? '').trim() || 'A woven band',
        client: entered.client ?? '',
        number: number || 'none yet',
        state: STATE_WORDS[state],
        total: sayMoney(figures.asked.total, wants.currency),
        hours: sayHours(figures.cases.likely.hours),
      }
    }),
  }
}

interface QuoteNewPage extends PageHead {
  readonly hidden: { readonly name: string; readonly value: string } | ''
  readonly about: string
  readonly forecast: string
  readonly repeatsField: FieldView | ''
  readonly pieces: FieldView
}

export interface ShownNew {
  readonly about: { readonly name: 'piece' | 'revision'; readonly id: number; readonly title: string } | undefined
  readonly forecast: string
  readonly repeats: { readonly typed: string; readonly problem: string } | undefined
  readonly pieces: readonly { readonly id: number; readonly name: string }[]
}

export function quoteNewPage({ about, forecast, repeats, pieces }: ShownNew): QuoteNewPage {
  const options = [
    ['', 'none: I type the hours'] as const,
    ...pieces.map(({ id, name }) => [String(id), name] as const),
  ]
  const fields = formFields(
    { piece: { label: 'For a piece', options }, repeats: { label: 'Repeats of the whole band', inputmode: 'decimal' } },
    { piece: '', repeats: repeats?.typed ?? '' },
    { repeats: repeats?.problem ?? '' },
  )
  return {
    ...{ title: 'A new quote', section: 'pieces', forecast },
    hidden: about ? { name: about.name, value: String(about.id) } : '',
    about: about?.title ?? '',
    repeatsField: repeats ? fields.repeats : '',
    pieces: fields.piece,
    problems: problemList(fields),
  }
}

interface QuotePaperPage extends PageHead {
  readonly paper: QuotePaper
  readonly backPath: string
  readonly isDraft: boolean
}

export const quotePaperPage = (paper: QuotePaper, quoteId: number, isDraft: boolean): QuotePaperPage => ({
  ...{ title: `${[paper.kind, paper.number].filter(Boolean).join(' ')}: ${paper.title}`, section: 'pieces' },
  ...{ paper, isDraft, backPath: `/quotes/${quoteId}` },
})

interface QuoteTermsPage extends PageHead {
  readonly fields: Readonly<Record<string, FieldView>>
  readonly rates: readonly FieldView[]
  readonly opened: string
  readonly conflict: string
}

export function quoteTermsPage(
  { entered, problems }: ReadQuoteForm,
  opened: string,
  notice: string,
  conflict = '',
): QuoteTermsPage {
  const fields = formFields(QUOTE_SPECS, entered, problems)
  return {
    ...{ title: 'Your terms', section: 'pieces', notice, fields, opened, conflict },
    rates: QUOTE_STAGES.flatMap((stage) => {
      const field = fields[stageFields(stage).rate]
      return field ? [{ ...field, label: quoteStageLabel(stage) }] : []
    }),
    problems: problemList(fields),
  }
}

interface QuoteResultsPage extends PageHead {
  readonly tables: readonly {
    readonly key: string
    readonly caption: string
    readonly head: string
    readonly rows: readonly {
      readonly head: string
      readonly path: string
      readonly n: number
      readonly quoted: string
      readonly actual: string
      readonly ratio: string
      readonly paid: string
      readonly wage: string
    }[]
  }[]
}

export function quoteResultsPage({ quotes, byClient, byWork }: Results): QuoteResultsPage {
  const table = (key: string, caption: string, head: string, rows: readonly ResultRow[]) => ({
    ...{ key, caption, head },
    rows: rows.map((row) => ({
      ...{ head: row.head, path: row.path, n: row.n, ratio: row.ratio },
      ...{ quoted: sayHours(row.quotedHours), actual: sayHours(row.actualHours) },
      paid: sayMoney(row.paid, row.currency),
      wage: row.wage === null ? 'no hours' : `${sayMoney(row.wage, row.currency)} an hour`,
    })),
  })
  return {
    ...{ title: 'Quoted, and what it came to', section: 'pieces' },
    tables: [
      table('each', 'Each quote', 'Quote', quotes),
      table('client', 'By client', 'Client', byClient),
      table('work', 'By kind of work', 'Kind of work', byWork),
    ],
  }
}
