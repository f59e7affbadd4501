import { z } from 'zod'
import {
  ANSWERS,
  type ConventionCard,
  NOTHING_STATED,
  OUR_FRAME,
  QUESTIONS,
  readCard,
} from '../../shared/draft/convention/card.ts'
import type { Written } from '../../shared/draft/convention/written.ts'
import { parseForm, wholeNumber } from '../form.ts'

/** How somebody wants their cards: in which convention, for which hand, which picks, and how many on a card. */
export interface CardChoice {
  readonly as: 'frame' | 'draft' | 'own'
  /** The reader's own convention; used where `as` is `own`. */
  readonly own: ConventionCard
  readonly isMirrored: boolean
  /** Runs not only counted, but written out by tablet. */
  readonly withPlaces: boolean
  readonly from: number
  readonly to: number
  readonly picksPerCard: number
}

/** Picks on one page: more than is woven in a week, and what a browser prints without waiting. */
export const MOST_PICKS_AT_ONCE = 480
export const USUAL_PICKS_PER_CARD = 12

export const CARD_COOKIE = 'fellmark-cards'
const REMEMBERED = new RegExp(`(?:^|;\\s*)${CARD_COOKIE}=([\\w-]{1,40})(?:;|$)`)

/** What the reader asked for before, of the cookies that came with a request. */
export const rememberedIn = (cookie: string | undefined): string | undefined => REMEMBERED.exec(cookie ?? '')?.[1]

const schema = z.object({
  as: z.string(),
  hand: z.string(),
  say: z.string(),
  from: wholeNumber(1, 20_000),
  to: wholeNumber(1, 20_000),
  perCard: wholeNumber(1, 60),
  ...Object.fromEntries(QUESTIONS.map((question) => [`card-${question}`, z.string()])),
})

export type ChoiceProblems = Partial<Record<'from' | 'to' | 'perCard', string>>

export interface ReadChoice {
  readonly choice: CardChoice
  /** What was typed, to stand in the form again. */
  readonly entered: Readonly<Record<string, string>>
  readonly problems: ChoiceProblems
}

/**
 * Reads the choice from an address or a form. What cannot be read falls back to the usual, with a sentence beside it:
 * cards are shown in any case.
 * @param remembered what the reader asked for before; a choice in the address comes first
 */
export function readChoice(
  query: unknown,
  draft: { picks: number; written: Written },
  remembered?: string,
): ReadChoice {
  const asked = hasChoice(query)
    ? query
    : remembered === undefined
      ? {}
      : { ...unpack(remembered), ...pickRange(query) }
  const form = parseForm(asked, schema)
  const entered = form.ok ? stringsOf(asked) : form.entered
  const problems: ChoiceProblems = form.ok ? {} : form.problems
  const number = (name: 'from' | 'to' | 'perCard') => (problems[name] ? undefined : Number(entered[name]) || undefined)
  const from = Math.min(number('from') ?? 1, draft.picks)
  if ((number('from') ?? 1) > draft.picks) problems.from ??= `This draft has ${draft.picks} picks.`
  const to = number('to') ?? draft.picks
  if (to > draft.picks) problems.to ??= `This draft has ${draft.picks} picks.`
  else if (to < from) problems.to ??= 'The last pick comes before the first one.'
  const last = problems.to ? draft.picks : to
  return {
    choice: {
      as: readAs(entered.as, draft.written),
      own: readOwn(entered) ?? OUR_FRAME,
      isMirrored: entered.hand === 'mirror',
      withPlaces: entered.say !== 'counts',
      ...{ from, to: Math.min(last, from + MOST_PICKS_AT_ONCE - 1) },
      picksPerCard: number('perCard') ?? USUAL_PICKS_PER_CARD,
    },
    entered,
    problems,
  }
}

function readAs(as: string | undefined, written: Written): CardChoice['as'] {
  if (as === 'own') return 'own'
  return as === 'draft' && written.kind === 'card' ? 'draft' : 'frame'
}

function readOwn(entered: Readonly<Record<string, string>>): ConventionCard | undefined {
  return readCard(
    Object.fromEntries(QUESTIONS.map((question) => [question, entered[`card-${question}`] ?? 'notStated'])),
  )
}

const stringsOf = (asked: unknown) =>
  Object.fromEntries(Object.entries(asked as object).map(([name, value]) => [name, String(value)]))

function hasChoice(query: unknown): boolean {
  return typeof query === 'object' && query !== null && Object.hasOwn(query, 'as')
}

/** Which picks is asked of one draft, and not remembered for the next. */
function pickRange(query: unknown): Record<string, unknown> {
  const { from, to } = query as Record<string, unknown>
  return { ...(from === undefined ? {} : { from }), ...(to === undefined ? {} : { to }) }
}

/** The card that a choice comes to. */
export function cardOfChoice({ as, own }: CardChoice, written: Written): ConventionCard {
  if (as === 'own') return own
  return as === 'draft' && written.kind === 'card' ? written.card : OUR_FRAME
}

/** What a cookie keeps of it: `own-00000000-mirror-places-12`, the answers by their place among the answers. */
export function packChoice({ as, own, isMirrored, withPlaces, picksPerCard }: CardChoice): string {
  const answers = QUESTIONS.map((question) => (ANSWERS[question] as readonly string[]).indexOf(own[question])).join('')
  return [as, answers, isMirrored ? 'mirror' : 'drafted', withPlaces ? 'places' : 'counts', picksPerCard].join('-')
}

function unpack(text: string): Record<string, string> {
  const match = /^(frame|draft|own)-(\d{8})-(mirror|drafted)-(places|counts)-(\d{1,2})$/.exec(text)
  if (!match) return {}
  const [, as, answers, hand, say, perCard] = match
  const own: Record<string, string> = {}
  QUESTIONS.forEach((question, at) => {
    own[`card-${question}`] = ANSWERS[question][Number(answers![at])] ?? NOTHING_STATED[question]
  })
  return { as: as!, hand: hand!, say: say!, perCard: perCard!, ...own }
}
