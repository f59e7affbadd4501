import { Router } from 'express'
import { BASES, labelOf, type Basis } from '../../shared/measure/claim-word.ts'
import type { Context } from '../context.ts'
import type { Db } from '../db/open.ts'
import { notFound, readId } from '../errors.ts'
import type { PageHead } from '../pages.ts'
import { findAnyFeature } from './feature-queries.ts'
import { figureLine } from './figure.ts'
import { strayFeature, subjectPath } from './pages.ts'
import { findSubjectName } from './queries.ts'
import { listUnsupported, type NamedClaim } from './source-queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'claim/unsupported': UnsupportedPage
  }
}

interface UnsupportedPage extends PageHead {
  /** The one original that it is of; empty over all. */
  readonly ofName: string
  readonly ofPath: string
  readonly count: string
  readonly subjects: readonly {
    readonly name: string
    readonly path: string
    readonly claims: readonly { readonly path: string; readonly text: string; readonly why: string }[]
  }[]
}

/** What is missing, by how it is said to be known. */
const WHY: Readonly<Record<Basis, string>> = {
  seen: 'seen, but neither by whom nor in which source',
  read: 'read in a publication that is not named',
  photograph: 'read off a photograph that is not named',
  inferred: 'inferred, and no source is said to bear it out',
  assumed: 'assumed',
}

/** Claims that no source supports, of one original or of all. */
export function unsupportedRoutes({ db, page }: Context): Router {
  const router = Router()
  router.get('/claims/unsupported', (req, res) => {
    const { original } = req.query
    if (original === undefined)
      return void res.send(page('claim/unsupported', unsupportedPage(db, listUnsupported(db))))
    const originalId = readId(String(original), 'original')
    const name = findSubjectName(db, { originalId })
    if (name === undefined) throw notFound('original')
    res.send(page('claim/unsupported', unsupportedPage(db, listUnsupported(db, originalId), { name, originalId })))
  })
  return router
}

function unsupportedPage(
  db: Db,
  claims: readonly NamedClaim[],
  of?: { readonly name: string; readonly originalId: number },
): UnsupportedPage {
  const subjects = new Map<
    string,
    { name: string; path: string; claims: UnsupportedPage['subjects'][number]['claims'][number][] }
  >()
  for (const { claim, subjectName } of claims) {
    const path = subjectPath(claim.subject)
    const subject = subjects.get(path) ?? { name: subjectName, path, claims: [] }
    const feature = findAnyFeature(db, claim.feature) ?? strayFeature(claim.feature)
    const label = [feature.label, claim.part].filter(Boolean).join(', ')
    const why = claim.isSourceHidden ? 'its source lies in the bin' : (WHY[claim.basis] ?? labelOf(BASES, claim.basis))
    subject.claims.push({ path: `/claims/${claim.id}`, text: `${label}: ${figureLine(claim, feature)}`, why })
    subjects.set(path, subject)
  }
  return {
    title: of ? `Claims without a source: ${of.name}` : 'Claims without a source',
    section: 'sources',
    ofName: of?.name ?? '',
    ofPath: of ? `/originals/${of.originalId}` : '',
    count: claims.length === 1 ? '1 claim' : `${claims.length} claims`,
    subjects: [...subjects.values()],
  }
}
