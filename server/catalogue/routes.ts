import { Router } from 'express'
import type { Context } from '../context.ts'
import { noticeOf } from '../notice.ts'
import { readAfter } from './after.ts'
import { drafts } from './drafts.ts'
import * as entries from './entries.ts'
import { readChosen } from './facet.ts'
import { listEntries, type Catalogue } from './listing.ts'
import { originals } from './originals.ts'
import { cataloguePage, type EntryView, type ListWords } from './pages.ts'
import { pieces } from './pieces.ts'
import { searchPage } from './search-pages.ts'
import { SEARCH_KINDS } from './search-kind.ts'
import { readAfterHit, searchNotebook, type Hits } from './search-queries.ts'
import { toMatch, toWords } from './search-words.ts'
import { sources } from './sources.ts'

export function catalogueRoutes({ db, page }: Context): Router {
  const router = Router()

  const list = <Entry extends { id: number }>(
    toCatalogue: () => Catalogue<Entry>,
    words: ListWords,
    toView: (entry: Entry) => EntryView,
  ) =>
    router.get(`/${words.section}`, (req, res) => {
      const catalogue = toCatalogue()
      const after = typeof req.query.after === 'string' ? req.query.after : ''
      const chosen = readChosen(req.query, catalogue.facets)
      const listing = listEntries(db, catalogue, chosen, readAfter(after))
      const data = cataloguePage(words, listing, catalogue.facets, chosen, after, toView)
      res.send(page('catalogue/list', { ...data, notice: noticeOf(req) }))
    })
  list(originals, entries.ORIGINAL_WORDS, entries.originalEntry)
  list(pieces, entries.PIECE_WORDS, entries.pieceEntry)
  list(drafts, entries.DRAFT_WORDS, entries.draftEntry)
  list(sources, entries.SOURCE_WORDS, entries.sourceEntry)

  const hitsOf = (found: Hits) => SEARCH_KINDS.reduce((sum, kind) => sum + found.counts[kind], 0)

  router.get('/search', (req, res) => {
    const q = typeof req.query.q === 'string' ? req.query.q.slice(0, 200) : ''
    const kind = SEARCH_KINDS.find((each) => each === req.query.kind)
    const after = readAfterHit(req.query.after)
    const match = toMatch(q)
    const found = match === undefined ? undefined : searchNotebook(db, match, kind, after)
    const words = found && hitsOf(found) === 0 ? toWords(q) : []
    const alone = words.length < 2 ? [] : words.map((word) => ({ word, hits: countAlone(word) }))
    res.send(page('catalogue/search', searchPage({ q, kind, after }, found, alone)))
  })

  const countAlone = (word: string) => {
    const match = toMatch(word)
    return match === undefined ? 0 : hitsOf(searchNotebook(db, match))
  }

  return router
}
