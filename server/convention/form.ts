import { ANSWERS, type ConventionCard, type Question, QUESTIONS, readCard } from '../../shared/draft/convention/card.ts'
import type { Written } from '../../shared/draft/convention/written.ts'
import type { Convention } from '../draft/queries.ts'
import { lines, readEntered } from '../form.ts'

type CardField = `card-${Question}`
const CARD_FIELDS = QUESTIONS.map((question): CardField => `card-${question}`)
export const CONVENTION_FIELDS = ['written', ...CARD_FIELDS, 'conventionNote'] as const
export type ConventionEntered = Record<(typeof CONVENTION_FIELDS)[number], string>

/** The convention part of a form: what was chosen, what is wrong with it, and what it comes to. */
export interface ConventionForm {
  readonly entered: ConventionEntered
  readonly problems: Partial<ConventionEntered>
  /** There when nothing is wrong. */
  readonly value: Convention | undefined
}

const noteRule = lines(2000)

/** Reads it from the body of any form that holds it; a body without it says that nobody filled it in. */
export function readConventionForm(body: unknown): ConventionForm {
  const entered = readEntered(body, CONVENTION_FIELDS)
  for (const field of CARD_FIELDS) entered[field] ||= 'notStated'
  const problems: Partial<ConventionEntered> = {}
  const note = noteRule.safeParse(entered.conventionNote)
  if (!note.success) problems.conventionNote = note.error.issues[0]!.message
  const card = cardIn(entered, problems)
  const isAnswered = CARD_FIELDS.some((field) => entered[field] !== 'notStated')
  if (!['', 'own', 'card'].includes(entered.written)) problems.written = 'Please choose one of the three.'
  else if (entered.written !== 'card' && isAnswered) {
    problems.written = 'Questions of the card are answered: choose “typed in from a publication”, or take them back.'
  }
  const isGood = Object.keys(problems).length === 0 && note.success && card !== undefined
  return {
    entered,
    problems,
    value: isGood ? { written: writtenOf(entered.written, card), note: note.data } : undefined,
  }
}

const writtenOf = (kind: string, card: ConventionCard): Written =>
  kind === 'card' ? { kind, card } : { kind: kind === 'own' ? 'own' : 'unsaid' }

function cardIn(entered: ConventionEntered, problems: Partial<ConventionEntered>): ConventionCard | undefined {
  for (const question of QUESTIONS) {
    const isAnswer = (ANSWERS[question] as readonly string[]).includes(entered[`card-${question}`])
    if (!isAnswer) problems[`card-${question}`] = 'Please choose one of the answers.'
  }
  return readCard(Object.fromEntries(QUESTIONS.map((question) => [question, entered[`card-${question}`]])))
}

/** What the form opens with. */
export function enteredOfConvention({ written, note }: Convention): ConventionEntered {
  const answers = QUESTIONS.map((question) => [
    `card-${question}`,
    written.kind === 'card' ? written.card[question] : 'notStated',
  ])
  return {
    ...(Object.fromEntries(answers) as Record<CardField, string>),
    written: written.kind === 'unsaid' ? '' : written.kind,
    conventionNote: note,
  }
}

export const blankConvention = (): ConventionForm => ({
  entered: enteredOfConvention({ written: { kind: 'unsaid' }, note: '' }),
  ...{ problems: {}, value: undefined },
})
