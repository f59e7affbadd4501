import { assumed, type ConventionCard, QUESTIONS } from '../../shared/draft/convention/card.ts'
import { ANSWER_WORDS, sayWritten } from '../../shared/draft/convention/say.ts'
import type { Written } from '../../shared/draft/convention/written.ts'
import { mirrorDraft } from '../../shared/draft/card/mirror-draft.ts'
import { threadingCard } from '../../shared/draft/card/threading-card.ts'
import { type TurningCard, turningCards } from '../../shared/draft/card/turning-cards.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { sayCount, sayPicks, startSentence } from '../../shared/draft/number-words.ts'
import { TABLET_MM } from '../../shared/draft/picture/tablet-drawing.ts'
import { questionViews, type QuestionView } from '../convention/view.ts'
import type { NotebookDraft } from '../draft/queries.ts'
import type { Revision } from '../draft/revision-queries.ts'
import { formFields, type FieldView } from '../field.ts'
import { type Html, type PageHead, toHtml } from '../pages.ts'
import { cardOfChoice, MOST_PICKS_AT_ONCE, type ReadChoice } from './choice.ts'

declare module '../pages.ts' {
  interface Pages {
    'card/show': CardPage
  }
}

export interface TabletView {
  readonly number: number
  readonly threading: string
  readonly isBorder: boolean
  /** From which side of it the thread comes in. */
  readonly fromSide: string
  /** Its number in the draft, from the weaver's left. */
  readonly ours: number
  /** Colour names by hole, `A madder`; an empty hole is a dash. */
  readonly holes: readonly string[]
  readonly picture: Html
}

interface CardPage extends PageHead {
  readonly action: string
  readonly back: string
  readonly heading: string
  readonly lead: string
  readonly fields: Record<'as' | 'hand' | 'say' | 'from' | 'to' | 'perCard', FieldView>
  readonly questions: readonly QuestionView[]
  readonly ownIsOpen: boolean
  readonly isRemembered: boolean
  /** What stands on every card: draft, revision and hand. */
  readonly name: string
  /** How to read it, for whoever finds the card next year. */
  readonly reading: readonly string[]
  /** Said on the card where the convention of the draft itself is not known, or questions are open. */
  readonly written: string
  readonly drawings: Html
  readonly tablets: readonly TabletView[]
  readonly colours: readonly ColourView[]
  /** Whether the tablets of each run are written out beneath. */
  readonly withPlaces: boolean
  readonly cards: readonly (TurningCard & { readonly label: string })[]
  readonly leftOut: string
}

interface Shown {
  readonly draft: NotebookDraft
  readonly revision: Revision
  readonly read: ReadChoice
  readonly isRemembered: boolean
  readonly notice: string
}

export function cardPage({ draft, revision, read, isRemembered, notice }: Shown): CardPage {
  const { choice } = read
  const card = cardOfChoice(choice, draft.written)
  const end = Math.min(choice.to, choice.from + MOST_PICKS_AT_ONCE - 1)
  // Only the picks that are shown: a repeat may have 20,000.
  const part = { ...revision.draft, picks: revision.draft.picks.slice(choice.from - 1, end) }
  const shown = choice.isMirrored ? mirrorDraft(part) : part
  const { drawings, tablets } = tabletViews(shown, card)
  const path = `/drafts/${draft.id}/revisions/${revision.number}`
  return {
    title: `Cards of ${draft.title}`,
    section: 'drafts',
    notice,
    action: `${path}/cards`,
    back: path,
    heading: draft.title,
    lead: `Threading card and turning cards of revision ${revision.number}: ${sayCount(revision.tablets, 'tablet')}, ${sayCount(revision.picks, 'pick')} in the repeat.`,
    ...choiceFields(read, draft.written, card),
    isRemembered,
    name: `${draft.title}, revision ${revision.number}`,
    reading: sayReading(card, choice.isMirrored),
    written: draft.written.kind === 'unsaid' ? startSentence(`${sayWritten(draft.written)}.`) : '',
    drawings,
    tablets,
    colours: colourViews(shown),
    withPlaces: choice.withPlaces,
    cards: turningCards(shown, {
      ...{ card, from: 1, to: part.picks.length, before: choice.from - 1 },
      picksPerCard: choice.picksPerCard,
    }).map((one) => ({
      ...one,
      label: startSentence(`${sayPicks(one.from, one.to)} of ${revision.picks}`),
    })),
    leftOut: sayLeftOut(choice.from, end, revision.picks),
  }
}

export interface ColourView {
  readonly key: string
  readonly name: string
  readonly hex: string
  readonly isWeft: boolean
}

export const colourViews = ({ colours, weft }: Draft): ColourView[] =>
  Object.entries(colours).map(([key, { name, hex }]) => ({ key, name, hex, isWeft: key === weft }))

function sayLeftOut(from: number, to: number, picks: number): string {
  if (from === 1 && to === picks) return ''
  return `Here are ${sayPicks(from, to)} of ${picks}; at most ${MOST_PICKS_AT_ONCE} at once.`
}

/** The tablets to thread, as the reader of the card sees them, and the drawings that they share. */
export function tabletViews(draft: Draft, card: ConventionCard): { drawings: Html; tablets: TabletView[] } {
  const ids = new Map<string, string>()
  const tablets = threadingCard(draft, card).map(({ number, ours, threading, fromSide, holes, part, drawing }) => {
    const id = ids.get(drawing) ?? `tablet-${ids.size}`
    ids.set(drawing, id)
    const { width, height } = TABLET_MM
    return {
      ...{ number, ours, threading, fromSide, isBorder: part === 'border' },
      holes: holes.map((key, at) => `${'ABCD'[at]!} ${key === null ? '–' : key}`),
      picture: toHtml(
        `<svg class="card-tablet-picture" viewBox="0 0 ${width} ${height}" aria-hidden="true" focusable="false"><use href="#${id}"/></svg>`,
      ),
    }
  })
  const symbols = [...ids].map(([drawing, id]) => `<g id="${id}">${drawing}</g>`).join('')
  return {
    drawings: toHtml(`<svg width="0" height="0" aria-hidden="true" focusable="false"><defs>${symbols}</defs></svg>`),
    tablets,
  }
}

/** The answers that decide how the card is read, each a short sentence; what is not stated is read as in our frame. */
export function sayReading(card: ConventionCard, isMirrored: boolean): string[] {
  const { end, forward, count, rows } = assumed(card)
  return [
    isMirrored ? 'Mirrored, for the other hand: the band comes out as its mirror image.' : '',
    `Read from ${ANSWER_WORDS.end[end]}.`,
    `Forward: ${ANSWER_WORDS.forward[forward].replaceAll('the reader', 'you')}.`,
    `Tablet 1 is at ${count === 'left' ? 'your left' : 'your right'}.`,
    `S and Z name ${ANSWER_WORDS.slant[assumed(card).slant]}.`,
    rows === 'upward' ? 'Rows read upward: each card begins at the foot of its last sheet.' : '',
  ].filter(Boolean)
}

/** What the reader chooses of how cards are written. */
export function choiceFields(
  { choice, entered, problems }: ReadChoice,
  written: Written,
  card: ConventionCard,
): Pick<CardPage, 'fields' | 'questions' | 'ownIsOpen'> {
  const specs = {
    as: {
      label: 'Written in',
      options: [
        ['frame', 'our own frame'],
        ...(written.kind === 'card' ? [['draft', 'the convention of its publication'] as const] : []),
        ['own', 'my own convention, chosen below'],
      ] as (readonly [string, string])[],
    },
    hand: {
      label: 'Hand',
      options: [
        ['drafted', 'as drafted'],
        ['mirror', 'mirrored, for the other hand'],
      ] as const,
      hint: choice.isMirrored ? 'The band itself comes out mirrored, letters and slants too.' : '',
    },
    say: {
      label: 'Runs',
      options: [
        ['places', 'counted, and written out by tablet'],
        ['counts', 'counted only, on fewer sheets'],
      ] as const,
    },
    from: { label: 'From pick', inputmode: 'numeric' as const },
    to: { label: 'To pick', inputmode: 'numeric' as const },
    perCard: { label: 'Picks on a card', inputmode: 'numeric' as const },
  }
  const typed = {
    ...{ as: choice.as, hand: choice.isMirrored ? 'mirror' : 'drafted' },
    say: choice.withPlaces ? 'places' : 'counts',
    from: problems.from ? entered.from! : String(choice.from),
    to: problems.to ? entered.to! : String(choice.to),
    perCard: problems.perCard ? entered.perCard! : String(choice.picksPerCard),
  }
  const own = choice.as === 'own' ? card : choice.own
  return {
    fields: formFields(specs, typed, problems as Record<string, string>),
    questions: questionViews(Object.fromEntries(QUESTIONS.map((question) => [`card-${question}`, own[question]]))),
    ownIsOpen: choice.as === 'own',
  }
}
