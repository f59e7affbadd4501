import { findAnyFeature } from '../claim/feature-queries.ts'
import { citationOf } from '../claim/citation.ts'
import { figureLine } from '../claim/figure.ts'
import { strayFeature, subjectPath } from '../claim/pages.ts'
import { listClaimsFrom } from '../claim/source-queries.ts'
import type { StyleKey } from '../citation/style.ts'
import type { Db } from '../db/open.ts'
import type { SourceFacts } from './pages.ts'
import type { Source } from './queries.ts'

/** Where a source is cited, as far as the viewer may see it: originals and pieces, with each claim and its place in it. */
export function citedIn(db: Db, source: Source, style: StyleKey): SourceFacts['citations'] {
  const subjects = new Map<
    string,
    { path: string; name: string; claims: SourceFacts['citations'][number]['claims'][number][] }
  >()
  for (const { claim, subjectName } of listClaimsFrom(db, source.id)) {
    const path = subjectPath(claim.subject)
    const subject = subjects.get(path) ?? { path, name: subjectName, claims: [] }
    const feature = findAnyFeature(db, claim.feature) ?? strayFeature(claim.feature)
    const label = [feature.label, claim.part].filter(Boolean).join(', ')
    const cited = citationOf(db, claim, style)
    subject.claims.push({
      path: `/claims/${claim.id}`,
      text: `${label}: ${figureLine(claim, feature)}${claim.withdrawnOn === null ? '' : ' (withdrawn)'}`,
      locator: claim.locator,
      cited: cited === '' ? '' : cited.html,
    })
    subjects.set(path, subject)
  }
  return [...subjects.values()]
}
