import {
  ASPECT_LABELS,
  ASPECT_PLACES,
  ASPECTS,
  PLACE_LABELS,
  spotKey,
  type Aspect,
  type Place,
} from '../../shared/fidelity/aspect.ts'
import { NEAR_WITHIN } from '../../shared/fidelity/measured.ts'
import { REASON_LABELS, RELATION_LABELS, type Relation } from '../../shared/fidelity/relation.ts'
import { totalOf } from '../../shared/fidelity/total.ts'
import type { ComparedPiece } from '../compare/queries.ts'
import type { DecisionsView } from '../decision/view.ts'
import type { Html, PageHead } from '../pages.ts'
import { hiddenName } from '../rights/allowed.ts'
import type { WeightingChoice } from '../weighting/choice.ts'
import { boundsBar, sayBounds } from './bar.ts'
import type { ColourEvidence, ColourLine } from './colour.ts'
import type { Measured, SpotEvidence } from './evidence.ts'
import { EFFECTS, type Effect } from './form.ts'
import { NEAR_PER_1000, type PatternEvidence, type PatternLine } from './pattern.ts'
import { toJudged, type Judgement } from './queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'fidelity/show': FidelityShowPage
  }
}

export interface FidelityShowPage extends PageHead {
  readonly pieceId: number
  readonly pieceName: string
  readonly original: { readonly name: string; readonly path: string }
  readonly hiddenOriginal: string
  readonly mayEdit: boolean
  readonly mayCompare: boolean
  readonly total: { readonly words: string; readonly bar: Html; readonly open: string }
  readonly weighting: WeightingChoice['view']
  readonly parts: readonly {
    readonly label: string
    readonly href: string
    readonly weight: string
    readonly bounds: string
    readonly bar: Html
    readonly judged: string
  }[]
  readonly aspects: readonly AspectView[]
  readonly conventions: readonly string[]
  readonly decisions: DecisionsView
}

interface AspectView {
  readonly key: Aspect
  readonly label: string
  readonly spots: readonly SpotView[]
  readonly measured: readonly (Measured & { readonly proposedWords: string })[]
  readonly pattern: readonly PatternLine[]
  readonly colours: readonly ColourLine[]
  readonly coloursFrom: string
  /** Borders that could be judged apart, and are not. */
  readonly apart: readonly { readonly label: string; readonly path: string }[]
}

interface SpotView {
  readonly place: string
  readonly relation: Relation
  readonly relationWords: string
  readonly known: string
  readonly used: string
  readonly reason: string
  readonly effects: readonly { readonly what: string; readonly text: string }[]
  readonly labelWords: string
  readonly original: SpotEvidence['original']
  readonly piece: SpotEvidence['piece']
  /** What the figures propose; empty where they do not, or where somebody has judged. */
  readonly proposed: string
  readonly path: string
  readonly action: string
}

export interface FidelityShown {
  readonly compared: ComparedPiece
  readonly judgements: readonly Judgement[]
  readonly evidenceOf: (aspect: Aspect, place: Place) => SpotEvidence
  readonly pattern: PatternEvidence
  readonly colours: ColourEvidence
  readonly weighting: WeightingChoice
  readonly decisions: DecisionsView
  readonly mayEdit: boolean
  readonly mayCompare: boolean
  readonly notice: string
}

export function fidelityShowPage(shown: FidelityShown): FidelityShowPage {
  const { compared, judgements, weighting, decisions, mayEdit, mayCompare, notice } = shown
  const { piece, original, hides } = compared
  const total = totalOf(toJudged(judgements), weighting.weights)
  const sum = ASPECTS.reduce((all, aspect) => all + weighting.weights[aspect], 0)
  return {
    title: `How near ${piece.name} comes`,
    section: 'pieces',
    ...{ notice, mayEdit, mayCompare, decisions },
    pieceId: piece.id,
    pieceName: piece.name,
    original: original ? { name: original.name, path: `/originals/${original.id}` } : { name: '', path: '' },
    hiddenOriginal: hides.original ? hiddenName('original') : '',
    total: {
      words: sayBounds(total),
      bar: boundsBar(total),
      open: total.openShare === 0 ? '' : `${Math.round(total.openShare * 100)} %`,
    },
    weighting: weighting.view,
    parts: total.parts.map((part) => ({
      label: ASPECT_LABELS[part.aspect],
      href: `#${part.aspect}`,
      weight: `${Math.round((100 * weighting.weights[part.aspect]) / sum)} %`,
      bounds: sayBounds(part),
      bar: boundsBar(part),
      judged: part.n === 0 ? 'nothing judged' : `${part.n} of ${part.of} judged`,
    })),
    aspects: ASPECTS.map((aspect) => aspectView(aspect, shown)),
    conventions: [
      'The same counts as 100 %, near as 50 to 100 %, substituted as 0 to 50 %; what nobody can know or nobody has judged as 0 to 100 %. Halves are a convention of this program: words carry no more.',
      `A measured feature is called near within ${NEAR_WITHIN * 100} % of the original, a pattern up to ${NEAR_PER_1000} differing cells in 1,000. Both are proposals by a convention of this program; the maker’s own judgement stands.`,
      'The bounds are no confidence interval: nothing is said of where between them the truth lies.',
    ],
  }
}

function aspectView(aspect: Aspect, shown: FidelityShown): AspectView {
  const { judgements, evidenceOf, pattern, colours, compared, mayEdit } = shown
  const { always, apart } = ASPECT_PLACES[aspect]
  const find = (place: Place) => judgements.find((one) => one.aspect === aspect && one.place === place)
  const newPath = (place: Place) =>
    mayEdit ? `/pieces/${compared.piece.id}/judgements/new?spot=${spotKey({ aspect, place })}` : ''
  const shownPlaces = [...always, ...apart.filter((place) => find(place))]
  return {
    key: aspect,
    label: ASPECT_LABELS[aspect],
    spots: shownPlaces.map((place) =>
      spotView(
        place,
        find(place),
        { ...withPattern(aspect, evidenceOf(aspect, place), pattern) },
        newPath(place),
        mayEdit,
      ),
    ),
    measured: always.flatMap((place) =>
      evidenceOf(aspect, place).measured.map((one) => ({ ...one, proposedWords: proposes(one.proposed) })),
    ),
    pattern: aspect === 'pattern' ? [...pattern.original, ...pattern.piece] : [],
    colours: aspect === 'dye' ? colours.lines : [],
    coloursFrom: aspect === 'dye' ? colours.from : '',
    apart: apart.flatMap((place) =>
      find(place) || !mayEdit ? [] : [{ label: PLACE_LABELS[place], path: newPath(place) }],
    ),
  }
}

/** What the faces propose goes before what counts of picks do. */
export const withPattern = (aspect: Aspect, evidence: SpotEvidence, pattern: PatternEvidence): SpotEvidence =>
  aspect === 'pattern' && pattern.proposed ? { ...evidence, proposed: pattern.proposed } : evidence

const proposes = (relation: Relation) => (relation === 'notJudged' ? 'proposes nothing' : RELATION_LABELS[relation])

function spotView(
  place: Place,
  judgement: Judgement | undefined,
  evidence: SpotEvidence,
  newPath: string,
  mayEdit: boolean,
): SpotView {
  const { original, piece, proposed } = evidence
  const common = { place: PLACE_LABELS[place], original, piece }
  if (!judgement)
    return {
      ...common,
      ...{ relation: 'notJudged', relationWords: RELATION_LABELS.notJudged, known: '', used: '', reason: '' },
      ...{ effects: [], labelWords: '', path: newPath, action: 'Judge it' },
      proposed: proposed && proposed !== 'notJudged' ? RELATION_LABELS[proposed] : '',
    }
  const { relation, known, used, labelWords } = judgement
  return {
    ...common,
    ...{ relation, relationWords: RELATION_LABELS[relation], known, used, labelWords, proposed: '' },
    reason: sayReason(judgement),
    effects: (Object.keys(EFFECTS) as Effect[]).flatMap((effect) =>
      judgement[effect] === '' ? [] : [{ what: EFFECTS[effect], text: judgement[effect] }],
    ),
    path: mayEdit ? `/judgements/${judgement.id}/edit` : '',
    action: 'Change',
  }
}

/** "safety: the mordant of the find is poisonous". */
export function sayReason({ reasonKind, reason }: Pick<Judgement, 'reasonKind' | 'reason'>): string {
  const kind = reasonKind === '' || reasonKind === 'other' ? '' : REASON_LABELS[reasonKind]
  return [kind, reason].filter(Boolean).join(': ')
}
