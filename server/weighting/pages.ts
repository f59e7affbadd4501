import { ASPECT_LABELS, ASPECTS, type Aspect } from '../../shared/fidelity/aspect.ts'
import { EQUAL_WEIGHTS } from '../../shared/fidelity/total.ts'
import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import type { PageHead } from '../pages.ts'
import type { SharingView } from '../sharing/view.ts'
import { typedWeighting, weightField, type WeightingEntered } from './form.ts'
import type { Weighting } from './queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'weighting/list': WeightingListPage
    'weighting/show': WeightingShowPage
    'weighting/edit': WeightingEditPage
  }
}

interface WeightingListPage extends PageHead {
  readonly weightings: readonly { readonly path: string; readonly name: string; readonly parts: string }[]
  readonly mayCreate: boolean
}

interface WeightingShowPage extends PageHead {
  readonly id: number
  readonly rows: readonly { readonly label: string; readonly weight: number; readonly share: string }[]
  readonly sum: number
  readonly notes: string
  readonly mayEdit: boolean
  readonly mayOwn: boolean
  readonly sharing: SharingView
}

interface WeightingEditPage extends PageHead {
  readonly action: string
  readonly back: string
  readonly name: FieldView
  readonly notes: FieldView
  readonly aspects: readonly FieldView[]
  readonly problems: readonly { href: string; text: string }[]
}

const WEIGHT: Omit<FieldSpec, 'label'> = { inputmode: 'numeric' }
const FIELDS: Record<keyof WeightingEntered, FieldSpec> = {
  name: { label: 'Name', required: true, hint: 'What they are for: “Seen from a step away”.' },
  ...(Object.fromEntries(
    ASPECTS.map((aspect) => [weightField(aspect), { label: ASPECT_LABELS[aspect], ...WEIGHT }]),
  ) as Record<`${Aspect}Weight`, FieldSpec>),
  notes: { label: 'Why these', rows: 3 },
}

export const BLANK_WEIGHTING: WeightingEntered = typedWeighting({ name: '', weights: EQUAL_WEIGHTS, notes: '' })

export function weightingListPage(
  weightings: readonly Weighting[],
  mayCreate: boolean,
  notice: string,
): WeightingListPage {
  return {
    ...{ title: 'Weights of aspects', section: 'pieces', mayCreate, notice },
    weightings: weightings.map((weighting) => ({
      path: `/weightings/${weighting.id}`,
      name: weighting.name,
      parts: sayHeaviest(weighting),
    })),
  }
}

/** "pattern 40, dye and colour 20, …": the three that count most. */
function sayHeaviest({ weights }: Weighting): string {
  const heavy = ASPECTS.filter((aspect) => weights[aspect] > 0).toSorted((a, b) => weights[b] - weights[a])
  const said = heavy.slice(0, 3).map((aspect) => `${ASPECT_LABELS[aspect].toLowerCase()} ${weights[aspect]}`)
  return heavy.length > 3 ? `${said.join(', ')} and ${heavy.length - 3} more` : said.join(', ')
}

export function weightingShowPage(
  { id, name, weights, notes }: Weighting,
  may: Pick<WeightingShowPage, 'mayEdit' | 'mayOwn' | 'sharing'>,
  notice: string,
): WeightingShowPage {
  const sum = ASPECTS.reduce((all, aspect) => all + weights[aspect], 0)
  return {
    ...{ title: name, section: 'pieces', id, notes, sum, notice, ...may },
    rows: ASPECTS.map((aspect) => ({
      label: ASPECT_LABELS[aspect],
      weight: weights[aspect],
      share: `${((100 * weights[aspect]) / sum).toFixed(0)} %`,
    })),
  }
}

/** New, edit and shown again: one page, so that none forgets a field. */
export function weightingEditPage(
  weighting: Pick<Weighting, 'id' | 'name'> | undefined,
  entered: WeightingEntered,
  problems: Problems<WeightingEntered> = {},
): WeightingEditPage {
  const fields = formFields(FIELDS, entered, problems)
  const { name, notes } = fields
  return {
    title: weighting ? `Edit weights: ${weighting.name}` : 'New weights',
    section: 'pieces',
    action: weighting ? `/weightings/${weighting.id}` : '/weightings',
    back: weighting ? `/weightings/${weighting.id}` : '/weightings',
    ...{ name, notes, aspects: ASPECTS.map((aspect) => fields[weightField(aspect)]), problems: problemList(fields) },
  }
}
