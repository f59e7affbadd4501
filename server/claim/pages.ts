import { FEATURE_GROUPS, type Feature, type FeatureGroup } from '../../shared/measure/feature.ts'
import type { Db } from '../db/open.ts'
import { formFields, problemList, type FieldView } from '../field.ts'
import type { Html, PageHead } from '../pages.ts'
import { viewerMayEdit } from '../rights/allowed.ts'
import { cautionsFor, type Caution } from './caution.ts'
import { toClaimView, type ClaimView } from './claim-view.ts'
import { listFeatures } from './feature-queries.ts'
import { listClaims, type Claim, type Subject } from './queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'claim/show': ClaimShowPage
  }
}

/** All that is claimed of an original or a piece, for the partial `views/parts/claims.hbs`. */
export interface ClaimsView {
  readonly title: string
  readonly groups: readonly {
    /** A group without a claim is there only to add one. */
    readonly isShown: boolean
    readonly label: string
    readonly blocks: readonly FeatureBlock[]
    /** Features of which nothing is claimed yet. */
    readonly offers: readonly { readonly label: string; readonly path: string }[]
  }[]
  /** Empty for who may not change the subject. */
  readonly newFeaturePath: string
}

/** Rival claims of one feature, and of one yarn where it has several. */
interface FeatureBlock {
  readonly label: string
  readonly part: string
  /** Empty for who may not change the subject. */
  readonly addPath: string
  readonly claims: readonly ClaimView[]
  readonly withdrawn: readonly ClaimView[]
  readonly hasNoWorking: boolean
}

export interface ClaimShowPage extends PageHead {
  readonly claim: ClaimView
  readonly subjectName: string
  readonly subjectPath: string
  readonly feature: string
  readonly part: string
  readonly cautions: readonly Caution[]
  readonly mayChange: boolean
  /** Its source and the place in it, as the reader's style cites them; empty while they are not printed. */
  readonly citation: { readonly html: Html; readonly kind: string } | ''
  readonly fields: Record<'workingReason' | 'withdrawReason', FieldView>
  readonly problems: readonly { href: string; text: string }[]
}

export function claimsView(db: Db, subject: Subject): ClaimsView {
  const mayEdit = mayEditSubject(db, subject)
  const claims = listClaims(db, subject)
  const features = withStrays(listFeatures(db), claims)
  const path = subjectPath(subject)
  const groups = (Object.keys(FEATURE_GROUPS) as FeatureGroup[]).map((group) => {
    const members = features.filter((feature) => feature.group === group)
    const claimed = new Set(claims.map((claim) => claim.feature))
    return {
      isShown: mayEdit || members.some((feature) => claimed.has(feature.key)),
      label: FEATURE_GROUPS[group],
      blocks: members.flatMap((feature) => toBlocks(feature, claims, path, mayEdit)),
      offers: members
        .filter((feature) => mayEdit && !claimed.has(feature.key))
        .map(({ key, label }) => ({ label, path: newClaimPath(path, key) })),
    }
  })
  const query = 'originalId' in subject ? `original=${subject.originalId}` : `piece=${subject.pieceId}`
  return {
    title: 'originalId' in subject ? 'What is claimed of it' : 'What was measured on it',
    groups,
    newFeaturePath: mayEdit ? `/features/new?${query}` : '',
  }
}

const mayEditSubject = (db: Db, subject: Subject) =>
  'originalId' in subject
    ? viewerMayEdit(db, 'original', subject.originalId)
    : viewerMayEdit(db, 'piece', subject.pieceId)

/** A claim page that came back has problems and what was typed; else both are empty. */
export function claimShowPage(
  claim: Claim,
  feature: Feature,
  subjectName: string,
  all: readonly Claim[],
  mayEdit: boolean,
  shown: {
    notice?: string
    entered?: Record<string, string>
    problems?: Partial<Record<string, string>>
    citation?: ClaimShowPage['citation']
  } = {},
): ClaimShowPage {
  const fields = formFields(
    {
      workingReason: { label: 'Why this one', hint: 'If you like; it is shown beside the value.', rows: 2 },
      withdrawReason: { label: 'Why it is withdrawn', rows: 2, required: true },
    },
    shown.entered ?? { workingReason: claim.isWorking ? claim.workingReason : '' },
    shown.problems,
  )
  const view = toClaimView(claim, feature, all, mayEdit)
  return {
    title: `${feature.label}${claim.part ? `, ${claim.part}` : ''}: ${view.line}`,
    section: sectionOf(claim.subject),
    notice: shown.notice ?? '',
    claim: view,
    subjectName,
    subjectPath: subjectPath(claim.subject),
    feature: feature.label,
    part: claim.part,
    cautions: cautionsFor(claim.subject, feature, claim.basis === 'seen'),
    mayChange: mayEdit && claim.withdrawnOn === null,
    citation: shown.citation ?? '',
    fields,
    problems: problemList(fields),
  }
}

export const subjectPath = (subject: Subject) =>
  'originalId' in subject ? `/originals/${subject.originalId}` : `/pieces/${subject.pieceId}`

export const sectionOf = (subject: Subject) => ('originalId' in subject ? 'originals' : 'pieces')

export const newClaimPath = (path: string, key: string) => `${path}/claims/new?feature=${encodeURIComponent(key)}`

function toBlocks(feature: Feature, claims: readonly Claim[], path: string, mayEdit: boolean): FeatureBlock[] {
  const mine = claims.filter((claim) => claim.feature === feature.key)
  return [...new Set(mine.map((claim) => claim.part))].map((part) => {
    const rivals = mine.filter((claim) => claim.part === part)
    const standing = rivals.filter((claim) => claim.withdrawnOn === null)
    const toView = (claim: Claim) => toClaimView(claim, feature, claims, mayEdit)
    return {
      label: feature.label,
      part,
      addPath: mayEdit ? newClaimPath(path, feature.key) + (part ? `&part=${encodeURIComponent(part)}` : '') : '',
      // The working one first; the others as they came.
      claims: [...standing].sort((a, b) => Number(b.isWorking) - Number(a.isWorking)).map(toView),
      withdrawn: rivals.filter((claim) => claim.withdrawnOn !== null).map(toView),
      hasNoWorking: standing.some((claim) => claim.kind !== 'blank') && !standing.some((claim) => claim.isWorking),
    }
  })
}

/** A claim whose feature is not in the list any more is still shown, under the key that it was kept with. */
function withStrays(features: readonly Feature[], claims: readonly Claim[]): readonly Feature[] {
  const known = new Set(features.map((feature) => feature.key))
  const strays = [...new Set(claims.map((claim) => claim.feature))].filter((key) => !known.has(key))
  return [...features, ...strays.map(strayFeature)]
}

export function strayFeature(key: string): Feature {
  const words = { units: [], baseUnit: null, comparesAsRatio: false, perYarn: false } as const
  return { key, label: key, group: 'structure', kind: 'text', hint: '', ...words }
}
