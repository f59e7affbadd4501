import { ANSWERS, type Question, QUESTIONS } from '../../shared/draft/convention/card.ts'
import { choicePicture } from '../../shared/draft/convention/choice-picture.ts'
import { ANSWER_WORDS, QUESTION_WORDS, sayAnswer, sayChanges, sayWritten } from '../../shared/draft/convention/say.ts'
import type { Written } from '../../shared/draft/convention/written.ts'
import type { Convention } from '../draft/queries.ts'
import { formFields, type FieldView } from '../field.ts'
import { type Html, toHtml } from '../pages.ts'
import type { ConventionForm } from './form.ts'

interface ChoiceView {
  readonly id: string
  readonly value: string
  readonly label: string
  readonly checked: boolean
  /** Empty where nothing can be drawn. */
  readonly picture: Html | ''
}

export interface QuestionView {
  readonly name: string
  readonly ask: string
  readonly problem: string
  readonly choices: readonly ChoiceView[]
}

/** The convention part of a form, as `parts/convention` shows it. */
export interface ConventionFormView {
  readonly written: QuestionView
  readonly isOpen: boolean
  readonly questions: readonly QuestionView[]
  readonly note: FieldView
}

const WRITTEN_CHOICES = [
  ['', 'Nobody has said yet: its pages say that the card is not filled in, and it is taken as it stands'],
  ['own', 'Made here, in our own frame: nothing is converted'],
  ['card', 'Typed in from a publication, whose card follows: it is converted to our frame by it'],
] as const

/** The pictures never change. */
const pictures = new Map<string, Html | ''>()

function pictureOf(question: Question, answer: string): Html | '' {
  const key = `${question} ${answer}`
  const known = pictures.get(key)
  if (known !== undefined) return known
  const drawn = choicePicture(question, answer as never)
  const picture = drawn === '' ? '' : toHtml(drawn)
  pictures.set(key, picture)
  return picture
}

/** The eight questions, each with its answers; `entered` by `card-…`. */
export function questionViews(
  entered: Readonly<Record<string, string>>,
  problems: Readonly<Partial<Record<string, string>>> = {},
): QuestionView[] {
  return QUESTIONS.map((question) => {
    const name = `card-${question}`
    const words = ANSWER_WORDS[question] as Readonly<Record<string, string>>
    return {
      name,
      ask: QUESTION_WORDS[question].ask,
      problem: problems[name] ?? '',
      choices: ANSWERS[question].map((answer) => ({
        id: `f-${name}-${answer}`,
        value: answer,
        label: words[answer]!,
        checked: entered[name] === answer,
        picture: pictureOf(question, answer),
      })),
    }
  })
}

export function conventionFormView({ entered, problems }: ConventionForm): ConventionFormView {
  const note = { label: 'Where it says so', rows: 2, hint: 'Page, figure or words of the publication.' }
  return {
    written: {
      name: 'written',
      ask: 'How this draft is written down',
      problem: problems.written ?? '',
      choices: WRITTEN_CHOICES.map(([value, label]) => ({
        ...{ id: `f-written-${value || 'unsaid'}`, value, label, picture: '' as const },
        checked: entered.written === value,
      })),
    },
    isOpen: entered.written === 'card' || Object.keys(problems).length > 0,
    questions: questionViews(entered, problems),
    note: formFields({ conventionNote: note }, entered, problems).conventionNote,
  }
}

/** For the list at the top of a form that came back. */
export function conventionProblems({ problems }: ConventionForm): { href: string; text: string }[] {
  return Object.entries(problems).map(([field, text]) => {
    const question = QUESTIONS.find((one) => field === `card-${one}`)
    if (field === 'written') return { href: '#f-written-unsaid', text: `How it is written down: ${text}` }
    if (question === undefined) return { href: '#f-conventionNote', text: `Where it says so: ${text}` }
    return { href: `#f-${field}-${ANSWERS[question][0]}`, text: `${QUESTION_WORDS[question].short}: ${text}` }
  })
}

/** What a page says of how a draft was written down. */
export interface ConventionView {
  readonly kind: Written['kind']
  readonly words: string
  readonly note: string
  readonly changes: readonly string[]
  readonly answers: readonly { question: string; answer: string; isOpen: boolean }[]
}

export function conventionView({ written, note }: Convention): ConventionView {
  const card = written.kind === 'card' ? written.card : undefined
  return {
    kind: written.kind,
    words: sayWritten(written),
    note,
    changes: card ? sayChanges(card) : [],
    answers: card
      ? QUESTIONS.map((question) => ({
          question: QUESTION_WORDS[question].short,
          answer: sayAnswer(card, question),
          isOpen: card[question] === 'notStated',
        }))
      : [],
  }
}
