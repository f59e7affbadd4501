import type { Db } from '../server/db/open.ts'
import { findAnyFeature } from '../server/claim/feature-queries.ts'
import { readClaimForm } from '../server/claim/form.ts'
import { insertClaim, setWorking, type Subject } from '../server/claim/queries.ts'
import { accept } from './accept.ts'
import type { Claim } from './type.ts'

export type SourceIds = ReadonlyMap<string, number>

/** The claims about one original or piece, in their order; a correction comes after what it corrects. */
export function writeClaims(
  db: Db,
  subject: Subject,
  claims: readonly Claim[],
  { sourceIds, claimedBy }: { readonly sourceIds: SourceIds; readonly claimedBy: string },
  at: string,
): void {
  const ids = new Map<string, number>()
  for (const claim of claims) {
    const { key, feature, part = '', state, basis, locator = '', on, reason = '', corrects, workingReason } = claim
    const what = `claim on ${feature} ${part}`
    const known = findAnyFeature(db, feature)
    if (!known) throw new Error(`The demo collection has a ${what}, which is no feature`)
    const correctsId = corrects === undefined ? undefined : ids.get(corrects)
    if (corrects !== undefined && correctsId === undefined) throw new Error(`Nothing has the key ${corrects}`)
    const sourceId = claim.source === undefined ? undefined : sourceIds.get(claim.source)
    if (claim.source !== undefined && sourceId === undefined) throw new Error(`No source has the key ${claim.source}`)
    const body = {
      ...{ part, state, basis, locator, reason, claimedBy, claimedOn: on, ...contentFields(claim) },
      ...{ source: sourceId === undefined ? '' : String(sourceId), working: claim.working ? 'yes' : '' },
    }
    const context = { hasSource: () => true, isCorrection: correctsId !== undefined }
    const id = insertClaim(db, subject, accept(what, readClaimForm(body, known, context)), at, correctsId)
    if (workingReason !== undefined) setWorking(db, id, workingReason)
    if (key !== undefined) ids.set(key, id)
  }
}

/** What the claim says, as the fields of its kind. */
function contentFields(claim: Claim): Record<string, string> {
  const n = claim.n === undefined ? '' : String(claim.n)
  if ('blank' in claim) return { kind: 'blank', blank: claim.blank }
  if ('text' in claim) return { kind: 'text', words: claim.text }
  if ('readings' in claim) {
    const { readings, unit, resolution = '' } = claim
    return { kind: 'readings', readings, unit, resolution }
  }
  if ('low' in claim) return { kind: 'range', low: claim.low, high: claim.high, unit: claim.unit }
  return { kind: 'value', value: claim.value, unit: claim.unit, n, u: claim.u ?? '' }
}
