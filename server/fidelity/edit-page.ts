import { ASPECT_LABELS, findSpot, PLACE_LABELS, type Spot } from '../../shared/fidelity/aspect.ts'
import { REASON_LABELS, REASONS, RELATION_LABELS, RELATIONS } from '../../shared/fidelity/relation.ts'
import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import type { PageHead } from '../pages.ts'
import { EFFECTS, type JudgementEntered } from './form.ts'
import type { SpotEvidence } from './evidence.ts'
import type { Judgement } from './queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'fidelity/edit': JudgementEditPage
  }
}

interface JudgementEditPage extends PageHead {
  readonly action: string
  readonly piece: { readonly id: number; readonly name: string }
  readonly spot: string
  readonly evidence: Pick<SpotEvidence, 'original' | 'piece'>
  readonly fields: Record<Exclude<keyof JudgementEntered, 'spot'>, FieldView>
  readonly problems: readonly { href: string; text: string }[]
  /** Empty for a new one. */
  readonly deletePath: string
}

const effect = (what: string): FieldSpec => ({ label: `What it does to ${what}` })

const FIELDS: Record<Exclude<keyof JudgementEntered, 'spot'>, FieldSpec> = {
  known: {
    label: 'What is known of the original',
    rows: 3,
    hint: 'With how sure it is. Filled from the working claims.',
  },
  used: { label: 'What the piece has', rows: 3, hint: 'Filled from its readings and yarns.' },
  relation: {
    label: 'How the two stand to each other',
    options: RELATIONS.map((key) => [key, RELATION_LABELS[key]] as const),
  },
  reasonKind: {
    label: 'Why it is otherwise',
    options: [['', 'not otherwise, or not said'], ...REASONS.map((key) => [key, REASON_LABELS[key]] as const)],
  },
  reason: { label: 'The reason in words', rows: 2, hint: 'Whoever may see the piece reads it.' },
  ...{ look: effect(EFFECTS.look), size: effect(EFFECTS.size), hand: effect(EFFECTS.hand), wear: effect(EFFECTS.wear) },
  labelWords: {
    label: 'How a label says it',
    rows: 2,
    hint: 'One sentence for a visitor: “Wool where the find has silk, which was not to be had so fine.”',
  },
}

export function judgementEditPage(
  piece: { readonly id: number; readonly name: string },
  judgement: Pick<Judgement, 'id'> | undefined,
  { entered, problems = {} }: { readonly entered: JudgementEntered; readonly problems?: Problems<JudgementEntered> },
  evidence: SpotEvidence,
): JudgementEditPage {
  const fields = formFields(FIELDS, entered, problems)
  const spot = findSpot(entered.spot)
  return {
    title: spot ? spotTitle(spot) : 'Judge an aspect',
    section: 'pieces',
    action: judgement ? `/judgements/${judgement.id}` : `/pieces/${piece.id}/judgements`,
    piece: { id: piece.id, name: piece.name },
    spot: entered.spot,
    evidence: { original: evidence.original, piece: evidence.piece },
    fields,
    problems: problemList(fields),
    deletePath: judgement ? `/judgements/${judgement.id}/delete` : '',
  }
}

/** "Fibre, warp"; an aspect of the whole band by its name alone. */
export const spotTitle = ({ aspect, place }: Spot): string =>
  place === 'whole' ? ASPECT_LABELS[aspect] : `${ASPECT_LABELS[aspect]}, ${PLACE_LABELS[place]}`

/** A new judgement with what is on record filled in, for the maker to confirm or change. */
export function prefilled(spot: string, { original, piece, proposed }: SpotEvidence): JudgementEntered {
  const text = (said: SpotEvidence['original']) => said.map((one) => one.text).join('\n')
  return {
    ...{ spot, known: text(original), used: text(piece), relation: proposed ?? 'notJudged' },
    ...{ reasonKind: '', reason: '', look: '', size: '', hand: '', wear: '', labelWords: '' },
  }
}
