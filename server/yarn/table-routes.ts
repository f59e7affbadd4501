import { Router } from 'express'
import { gramsText } from '../../shared/yarn/ledger.ts'
import { today, type Context } from '../context.ts'
import { writeTable } from '../draft-export/table.ts'
import { seeOther } from '../notice.ts'
import type { PageHead } from '../pages.ts'
import { keepLots } from './keep-lots.ts'
import { listLots } from './queries.ts'
import { COLUMNS, readLots, writeLots, type ReadLots } from './table.ts'

declare module '../pages.ts' {
  interface Pages {
    'yarn/import': YarnImportPage
  }
}

interface YarnImportPage extends PageHead {
  readonly document: string
  readonly places: readonly { readonly place: string; readonly message: string }[]
  readonly headings: string
  readonly lookedKey: string
  /** Somebody changed the table after looking, and asked to keep it. */
  readonly hasChanged: boolean
  readonly size: string
  readonly rows: readonly {
    readonly row: number
    readonly yarn: string
    readonly colour: string
    readonly hex: string
    readonly about: string
    readonly grams: string
  }[]
}

/** The shelf as a table, out and in: looked at first, kept when that is asked. */
export function yarnTableRoutes(context: Context): Router {
  const { db, page, now } = context
  const router = Router()

  router.get('/yarns/lots.csv', (_req, res) => {
    res.attachment('lots.csv')
    res.type('text/csv').send(writeTable(writeLots(listLots(db))))
  })

  router.get('/yarns/import', (_req, res) => void res.send(page('yarn/import', importPage())))

  router.post('/yarns/import', (req, res) => {
    const read = readLots(req.body, today(context))
    if (read.problems.length > 0) return void res.status(422).send(page('yarn/import', importPage(read)))
    if (!read.keep || !read.isLookedAt) return void res.send(page('yarn/import', importPage(read)))
    keepLots(db, read.lots, today(context), now().toISOString())
    seeOther(res, '/yarns', 'yarns-kept')
  })

  return router
}

function importPage(read?: ReadLots): YarnImportPage {
  const { text = '', problems = [], lots = [] } = read ?? {}
  return {
    ...{ title: 'Import lots', section: 'yarns', scripts: ['draft-import'], document: text, places: problems },
    problems: problems.map(({ place, message }) => ({ href: '#f-document', text: `${place}: ${message}` })),
    headings: COLUMNS.map(([, heading]) => heading).join(', '),
    lookedKey: read && lots.length > 0 ? read.looked : '',
    hasChanged: read !== undefined && read.keep && !read.isLookedAt && problems.length === 0,
    size: `${lots.length} ${lots.length === 1 ? 'lot' : 'lots'}, ${gramsText(lots.reduce((sum, { onHandMg }) => sum + onHandMg, 0))} g on hand.`,
    rows: lots.map(({ row, yarn, lot, onHandMg }) => ({
      ...{ row, yarn: yarn.name, colour: lot.colourName, hex: lot.colourHex, grams: gramsText(onHandMg) },
      about: [yarn.count, yarn.blend, lot.dye, lot.lotNumber && `lot ${lot.lotNumber}`].filter(Boolean).join(', '),
    })),
  }
}
