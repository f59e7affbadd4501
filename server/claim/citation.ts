import { referenceHtml } from '../citation/html.ts'
import { findPrinted } from '../citation/queries.ts'
import { STYLES, type StyleKey } from '../citation/style.ts'
import type { Db } from '../db/open.ts'
import type { ClaimShowPage } from './pages.ts'
import type { Claim } from './queries.ts'

/** How a text cites the claim's source and the place in it; empty where there is none, or it is not printed yet. */
export function citationOf(db: Db, { source, locator }: Claim, style: StyleKey): ClaimShowPage['citation'] {
  const printed = source ? findPrinted(db, source, style, locator) : undefined
  if (!printed || printed.citation === '') return ''
  const kind = STYLES[style].sort === 'notes' ? 'Cited in a note' : 'Cited in a text'
  return { kind, html: referenceHtml(printed.citation) }
}
