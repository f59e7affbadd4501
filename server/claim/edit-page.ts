import { labelOf, STATES } from '../../shared/measure/claim-word.ts'
import { isQuantity, type Feature } from '../../shared/measure/feature.ts'
import { formFields, problemList, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import type { PageHead } from '../pages.ts'
import { cautionsFor, type Caution } from './caution.ts'
import { fieldSpecs, type SourceChoice } from './edit-fields.ts'
import { figureLine } from './figure.ts'
import type { ClaimEntered, ClaimField } from './form.ts'
import { CLAIM_KINDS, type ClaimKind } from './kind.ts'
import { sectionOf, subjectPath } from './pages.ts'
import type { Claim, Subject } from './queries.ts'
import { KIND_FIELDS, kindsOf } from './value-form.ts'

declare module '../pages.ts' {
  interface Pages {
    'claim/edit': ClaimEditPage
  }
}

interface ClaimEditPage extends PageHead {
  readonly action: string
  readonly back: string
  readonly subjectName: string
  readonly feature: { readonly key: string; readonly label: string; readonly hint: string }
  readonly kinds: readonly {
    readonly key: ClaimKind
    readonly label: string
    readonly isChosen: boolean
    /** Something stands in its inputs, so that they are shown even when another kind is chosen. */
    readonly isFilled: boolean
    readonly fields: readonly FieldView[]
  }[]
  readonly fields: Record<ClaimField, FieldView>
  /** The unit to choose, or the one that needs no choice. */
  readonly hasUnits: boolean
  readonly onlyUnit: string
  readonly asksPart: boolean
  /** What the claim corrects, on a line; empty for a new one. */
  readonly corrects: string
  readonly cautions: readonly Caution[]
  readonly problems: readonly { href: string; text: string }[]
}

export interface ClaimEditSubject {
  readonly subject: Subject
  readonly name: string
  readonly sources: readonly SourceChoice[]
}

/** New, correction and shown again: one page, so that none forgets a field. */
export function claimEditPage(
  about: ClaimEditSubject,
  feature: Feature,
  entered: ClaimEntered,
  problems: Problems<ClaimEntered> = {},
  corrected?: Claim,
): ClaimEditPage {
  const fields = formFields(fieldSpecs(feature, about.sources, corrected !== undefined), entered, problems)
  const what = corrected ? 'Correct a claim' : 'pieceId' in about.subject ? 'Measure' : 'Claim'
  const path = subjectPath(about.subject)
  return {
    title: `${what}: ${feature.label.toLowerCase()} of ${about.name}`,
    section: sectionOf(about.subject),
    action: corrected ? `/claims/${corrected.id}/correct` : `${path}/claims`,
    back: corrected ? `/claims/${corrected.id}` : path,
    subjectName: about.name,
    feature: { key: feature.key, label: feature.label, hint: feature.hint },
    kinds: kindsFor(about.subject, feature).map((key) => ({
      key,
      label: CLAIM_KINDS[key],
      isChosen: entered.kind === key,
      isFilled: KIND_FIELDS[key].some((name) => entered[name].trim() !== ''),
      fields: KIND_FIELDS[key].map((name) => fields[name]),
    })),
    fields,
    hasUnits: feature.units.length > 1,
    onlyUnit: feature.units[0] ?? '',
    asksPart: feature.perYarn || feature.group === 'warp' || feature.group === 'weft' || feature.key.startsWith('own-'),
    corrects: corrected ? `${figureLine(corrected, feature)}, ${labelOf(STATES, corrected.state)}` : '',
    cautions: cautionsFor(about.subject, feature, true),
    problems: problemList(fields),
  }
}

/** On a piece one measures: the readings come first. */
function kindsFor(subject: Subject, feature: Feature): readonly ClaimKind[] {
  const kinds = kindsOf(feature)
  if ('originalId' in subject || !isQuantity(feature.kind)) return kinds
  return ['readings', ...kinds.filter((kind) => kind !== 'readings')]
}

/** A new form: what is likeliest is chosen already. */
export function newClaimEntered(subject: Subject, feature: Feature, part: string, today: string): ClaimEntered {
  const isPiece = 'pieceId' in subject
  return {
    ...EMPTY,
    kind: kindsFor(subject, feature)[0] ?? 'text',
    unit: feature.units[0] ?? '',
    part,
    state: isPiece ? 'offTension' : 'asPreserved',
    basis: isPiece ? 'seen' : 'read',
    claimedOn: isPiece ? today : '',
  }
}

/** A correction starts from what it corrects; only the reason is new. */
export function correctionEntered(claim: Claim): ClaimEntered {
  const { kind, unit, part, state, basis, claimedBy, locator } = claim
  const { value, u, low, high, readings, resolution, words, blank } = claim
  const texts = { value, u, low, high, readings, resolution, words, blank, claimedOn: claim.claimedOn }
  const typed = Object.fromEntries(Object.entries(texts).map(([name, text]) => [name, text ?? '']))
  return {
    ...EMPTY,
    ...typed,
    ...{ kind, unit, part, state, basis, claimedBy, locator },
    n: claim.n === null ? '' : String(claim.n),
    source: claim.source ? String(claim.source.id) : '',
    working: claim.isWorking ? 'yes' : '',
  }
}

const EMPTY: ClaimEntered = {
  ...{
    kind: '',
    unit: '',
    value: '',
    u: '',
    n: '',
    low: '',
    high: '',
    readings: '',
    resolution: '',
    words: '',
    blank: '',
  },
  ...{ part: '', state: '', basis: '', claimedBy: '', source: '', newSource: '', locator: '', claimedOn: '' },
  ...{ reason: '', working: '' },
}
