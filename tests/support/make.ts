import type { ClaimForm } from '../../server/claim/form.ts'
import { findClaim, insertClaim, type Claim, type Subject } from '../../server/claim/queries.ts'
import type { Db } from '../../server/db/open.ts'
import type { OriginalForm } from '../../server/original/form.ts'
import { insertOriginal } from '../../server/original/queries.ts'
import type { SourceForm } from '../../server/source/form.ts'
import { insertSource } from '../../server/source/queries.ts'

const AT = '2026-11-24T12:00:00.000Z'

const ORIGINAL: OriginalForm = {
  ...{ name: 'Fen band', otherNames: '', holder: '', inventoryNumber: '', findPlace: '', findContext: '' },
  ...{ date: undefined, technique: '', preservation: '', notes: '' },
}

const SOURCE: SourceForm = {
  ...{ title: 'Bands of the Fen', people: 'Oss, R.', year: '1987', kind: 'book', container: '', pages: '' },
  ...{ doi: '', isbn: '', url: '', notes: '', editors: '', volume: '', issue: '', publisher: '', place: '' },
  ...{ edition: '', issn: '', accessedOn: '', citeKey: '' },
}

const CLAIM: ClaimForm = {
  ...{ feature: 'width', part: '', kind: 'value', unit: 'mm', value: '13.0' },
  ...{ state: 'asPreserved', basis: 'read', claimedBy: '', locator: '', reason: '', isWorking: false },
}

/** An original with what a test says of it, and the rest filled in; its id. */
export function makeOriginal(db: Db, original: Partial<OriginalForm> = {}): number {
  return insertOriginal(db, { ...ORIGINAL, ...original }, AT)
}

/** A book, or what a test says of it; its id. */
export function makeSource(db: Db, source: Partial<SourceForm> = {}): number {
  return insertSource(db, { ...SOURCE, ...source }, AT)
}

/** A width of 13.0 mm read in a publication, or what a test says. Another kind takes the value away: say all of it. */
export function makeClaim(db: Db, subject: Subject, claim: Partial<ClaimForm> = {}, correctsId?: number): Claim {
  const value = claim.kind !== undefined && claim.kind !== 'value' ? { value: undefined } : {}
  const found = findClaim(db, insertClaim(db, subject, { ...CLAIM, ...value, ...claim }, AT, correctsId))
  if (!found) throw new Error('the claim that was just written is not there')
  return found
}
