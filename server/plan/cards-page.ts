import { mirrorDraft } from '../../shared/draft/card/mirror-draft.ts'
import type { Written } from '../../shared/draft/convention/written.ts'
import { sayWritten } from '../../shared/draft/convention/say.ts'
import { startSentence } from '../../shared/draft/number-words.ts'
import type { PlanEntered } from '../../shared/plan/entry.ts'
import type { PlanFacts } from '../../shared/plan/facts.ts'
import { sayCm } from '../../shared/plan/say.ts'
import { planSheet } from '../../shared/plan/sheet.ts'
import { cardOfChoice, type ReadChoice } from '../card/choice.ts'
import { choiceFields, colourViews, type ColourView, sayReading, tabletViews, type TabletView } from '../card/pages.ts'
import type { QuestionView } from '../convention/view.ts'
import type { FieldView } from '../field.ts'
import type { Html, PageHead } from '../pages.ts'

declare module '../pages.ts' {
  interface Pages {
    'plan/cards': PlanCardsPage
  }
}

/** One colour, wound in one go. */
interface WindingView {
  readonly name: string
  readonly hex: string
  readonly yarn: string
  /** `24 ends`, `64.5 m`, `63.95 turns`; what is not known is left out. */
  readonly amounts: readonly string[]
  readonly groups: string
  /** A box to tick an end, in tens, each ten with the number that it ends with. */
  readonly tens: readonly { readonly to: number; readonly boxes: readonly number[] }[]
}

interface PlanCardsPage extends PageHead {
  readonly pieceId: number
  readonly heading: string
  readonly fields: Pick<Record<string, FieldView>, 'as' | 'hand'> & { as: FieldView; hand: FieldView }
  readonly questions: readonly QuestionView[]
  readonly ownIsOpen: boolean
  readonly hint: string
  readonly name: string
  readonly reading: readonly string[]
  readonly written: string
  readonly drawings: Html
  readonly tablets: readonly TabletView[]
  readonly colours: readonly ColourView[]
  readonly warp: readonly string[]
  readonly winding: readonly WindingView[]
  readonly mayEdit: boolean
}

/** More ends of one colour than this are ticked in tens: a box an end would fill sheets. */
const MOST_BOXES = 200

export interface ShownCards {
  readonly piece: { readonly id: number; readonly name: string }
  readonly facts: PlanFacts
  readonly entered: PlanEntered
  readonly isKept: boolean
  readonly written: Written
  readonly read: ReadChoice
  readonly mayEdit: boolean
}

export function planCardsPage({ piece, facts, entered, isKept, written, read, mayEdit }: ShownCards): PlanCardsPage {
  const { sheet, figures } = planSheet(entered, facts)
  const { choice } = read
  const card = cardOfChoice(choice, written)
  const draft = { ...facts.draft, picks: facts.draft.picks.slice(0, 1) }
  const shown = choice.isMirrored ? mirrorDraft(draft) : draft
  const { fields, questions, ownIsOpen } = choiceFields(read, written, card)
  const { warpLength, ends, windingTurns } = sheet.figures
  const turn = figures.windingTurnMm
  return {
    title: `Winding and threading cards of ${piece.name}`,
    section: 'pieces',
    pieceId: piece.id,
    heading: piece.name,
    ...{ fields, questions, ownIsOpen, mayEdit },
    hint: isKept ? '' : 'No plan is kept with this piece yet, so lengths are not known. ',
    name: piece.name,
    reading: sayReading(card, choice.isMirrored),
    written: written.kind === 'unsaid' ? startSentence(`${sayWritten(written)}.`) : '',
    ...tabletViews(shown, card),
    colours: colourViews(shown),
    warp: [
      `Warp ${warpLength.text}`,
      `${ends.text} ends`,
      turn === null ? '' : `${windingTurns.text} an end, ${sayCm(turn)} a turn`,
    ].filter(Boolean),
    winding: sheet.winding.map(({ head, hex, key, cells: [count, turns, groups, yarn] }) => ({
      ...{ name: head, hex, yarn: yarn!.text, groups: groups!.text },
      amounts: [
        `${count!.text} ends`,
        sheet.warp.find((row) => row.key === key)?.cells[1]?.text ?? '',
        turn === null || turns!.text === '–' ? '' : `${turns!.text} turns`,
      ].filter(Boolean),
      tens: tensOf(Number(count!.text)),
    })),
  }
}

function tensOf(ends: number): WindingView['tens'] {
  const step = ends > MOST_BOXES ? 10 : 1
  const tens = Math.ceil(ends / (10 * step))
  return Array.from({ length: tens }, (_, ten) => {
    const to = Math.min(ends, (ten + 1) * 10 * step)
    const boxes = Math.ceil((to - ten * 10 * step) / step)
    return { to, boxes: Array.from({ length: boxes }, (_, box) => box) }
  })
}
