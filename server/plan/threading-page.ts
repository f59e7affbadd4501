import { mirrorDraft } from '../../shared/draft/card/mirror-draft.ts'
import type { Written } from '../../shared/draft/convention/written.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { type CardChoice, cardOfChoice } from '../card/choice.ts'
import { colourViews, type ColourView, sayReading, tabletViews, type TabletView } from '../card/pages.ts'
import type { Html, PageHead } from '../pages.ts'

declare module '../pages.ts' {
  interface Pages {
    'plan/threading': ThreadingPage
  }
}

interface ThreadingPage extends PageHead {
  readonly pieceId: number
  readonly heading: string
  readonly reading: readonly string[]
  readonly drawings: Html
  readonly colours: readonly ColourView[]
  readonly tablets: readonly (TabletView & { readonly value: number; readonly isTicked: boolean })[]
  readonly total: number
  readonly done: number
  /** Done on other pages of the list, so that the script can count. */
  readonly doneElsewhere: number
  readonly from: number
  readonly to: number
  readonly pages: readonly { readonly label: string; readonly from: number; readonly current: boolean }[]
}

/** Tablets on one page of the list: each is a field of the form, and a form has at most 200. */
export const TABLETS_A_PAGE = 100

export interface ShownThreading {
  readonly piece: { readonly id: number; readonly name: string }
  readonly draft: Draft
  readonly written: Written
  readonly choice: CardChoice
  /** By their numbers in the draft. */
  readonly ticks: readonly number[]
  /** The place in the reader's order at which this page begins, from 1. */
  readonly from: number
  readonly notice: string
}

export function threadingPage({ piece, draft, written, choice, ticks, from, notice }: ShownThreading): ThreadingPage {
  const card = cardOfChoice(choice, written)
  const shown = choice.isMirrored ? mirrorDraft({ ...draft, picks: draft.picks.slice(0, 1) }) : draft
  const { drawings, tablets } = tabletViews(shown, card)
  const total = tablets.length
  const numberOf = ({ ours }: TabletView) => (choice.isMirrored ? total + 1 - ours : ours)
  const first = Math.min(from, Math.floor((total - 1) / TABLETS_A_PAGE) * TABLETS_A_PAGE + 1)
  const part = tablets.slice(first - 1, first - 1 + TABLETS_A_PAGE)
  const ticked = new Set(ticks)
  const here = part.filter((tablet) => ticked.has(numberOf(tablet))).length
  const pages = Array.from({ length: Math.ceil(total / TABLETS_A_PAGE) }, (_, at) => at * TABLETS_A_PAGE + 1)
  return {
    title: `Threading check-list of ${piece.name}`,
    section: 'pieces',
    scripts: ['plan-threading'],
    ...{ notice, drawings, total },
    pieceId: piece.id,
    heading: piece.name,
    reading: sayReading(card, choice.isMirrored),
    colours: colourViews(shown),
    tablets: part.map((tablet) => ({ ...tablet, value: numberOf(tablet), isTicked: ticked.has(numberOf(tablet)) })),
    done: ticks.length,
    doneElsewhere: ticks.length - here,
    from: first,
    to: first + part.length - 1,
    pages:
      pages.length === 1
        ? []
        : pages.map((at) => ({
            label: `${at} to ${Math.min(total, at + TABLETS_A_PAGE - 1)}`,
            from: at,
            current: at === first,
          })),
  }
}

/**
 * The ticks after a page of the list was sent: those of its tablets as they are on it, all others as they were.
 * @param shown numbers in the draft of the tablets on that page
 */
export function mergeTicks(kept: readonly number[], shown: readonly number[], ticked: readonly number[]): number[] {
  const here = new Set(shown)
  const all = [...kept.filter((tablet) => !here.has(tablet)), ...ticked.filter((tablet) => here.has(tablet))]
  return [...new Set(all)].sort((left, right) => left - right)
}
