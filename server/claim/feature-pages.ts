import { FEATURE_GROUPS, type Feature, type FeatureGroup } from '../../shared/measure/feature.ts'
import { formFields, problemList, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import type { PageHead } from '../pages.ts'
import type { ClaimEditSubject } from './edit-page.ts'
import { OWN_FEATURE_KIND_KEYS, OWN_FEATURE_KINDS, type FeatureEntered } from './feature-form.ts'
import { newClaimPath, sectionOf, subjectPath } from './pages.ts'
import type { Subject } from './queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'claim/features': FeaturesPage
    'claim/feature-edit': FeatureEditPage
  }
}

interface FeaturesPage extends PageHead {
  readonly lead: string
  readonly groups: readonly {
    readonly label: string
    /** An empty path is no link. */
    readonly features: readonly { readonly label: string; readonly hint: string; readonly path: string }[]
  }[]
  readonly newFeaturePath: string
}

interface FeatureEditPage extends PageHead {
  readonly fields: Record<keyof FeatureEntered, FieldView>
  readonly original: string
  readonly piece: string
  readonly back: string
  readonly problems: readonly { href: string; text: string }[]
}

/** All features: to choose from when something is claimed of a subject, or just to see them. */
export function claimFeaturesPage(
  about: ClaimEditSubject | undefined,
  features: readonly Feature[],
  notice = '',
): FeaturesPage {
  const path = about && subjectPath(about.subject)
  return {
    title: about ? `Which feature of ${about.name}?` : 'Features',
    section: about ? sectionOf(about.subject) : 'originals',
    notice,
    lead: about ? 'Choose what you want to state.' : 'What may be claimed of an original or measured on a piece.',
    groups: (Object.keys(FEATURE_GROUPS) as FeatureGroup[]).map((group) => ({
      label: FEATURE_GROUPS[group],
      features: features
        .filter((feature) => feature.group === group)
        .map(({ key, label, hint }) => ({ label, hint, path: path ? newClaimPath(path, key) : '' })),
    })),
    newFeaturePath: `/features/new${about ? subjectQuery(about.subject) : ''}`,
  }
}

/** @param subject what the new feature is wanted for: its claim form comes next */
export function featureEditPage(
  subject: Subject | undefined,
  entered: FeatureEntered,
  problems: Problems<FeatureEntered> = {},
): FeatureEditPage {
  const fields = formFields(
    {
      label: { label: 'Name', required: true, hint: 'As it stands on the page: “Fringe length”.' },
      kind: {
        label: 'What is stated of it',
        options: OWN_FEATURE_KIND_KEYS.map((key) => [key, OWN_FEATURE_KINDS[key]] as const),
      },
    },
    entered,
    problems,
  )
  return {
    title: 'A feature of your own',
    section: subject ? sectionOf(subject) : 'originals',
    fields,
    original: subject && 'originalId' in subject ? String(subject.originalId) : '',
    piece: subject && 'pieceId' in subject ? String(subject.pieceId) : '',
    back: subject ? subjectPath(subject) : '/features',
    problems: problemList(fields),
  }
}

const subjectQuery = (subject: Subject) =>
  'originalId' in subject ? `?original=${subject.originalId}` : `?piece=${subject.pieceId}`
