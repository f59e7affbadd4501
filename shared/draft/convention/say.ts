import { type ConventionCard, OUR_FRAME, type Question, QUESTIONS } from './card.ts'
import { changesBy } from './convert.ts'
import { listOpen, type Written } from './written.ts'

/** The card's questions as they are asked; "reader" is whoever uses the author's draft at the loom. */
export const QUESTION_WORDS: { readonly [Q in Question]: { readonly ask: string; readonly short: string } } = {
  end: { ask: 'From which end is it read?', short: 'Read from' },
  forward: { ask: 'What does forward mean?', short: 'Forward' },
  slant: { ask: 'What do S and Z name?', short: 'S and Z' },
  face: { ask: 'To which side does the lettered face of a tablet look?', short: 'Lettered face' },
  sense: { ask: 'How do the letters run, for somebody who looks at that face?', short: 'Letters run' },
  first: { ask: 'Where is hole A before the first pick?', short: 'Hole A' },
  rows: { ask: 'Where on the page is the first pick?', short: 'First pick' },
  count: { ask: 'From which side does tablet 1 count?', short: 'Tablet 1' },
}

/** The answers as they are offered. */
export const ANSWER_WORDS: { readonly [Q in Question]: { readonly [A in ConventionCard[Q]]: string } } = {
  end: {
    woven: 'the woven end, looking away along the warp',
    warp: 'the bare warp, looking back to the cloth',
    notStated: 'not stated',
  },
  forward: {
    away: 'the top edge goes away from the reader',
    towards: 'the top edge comes towards the reader',
    notStated: 'not stated',
  },
  slant: {
    thread: 'the slant of the thread, seen from above',
    tablet: 'the tilt of the tablet, seen from above',
    notStated: 'not stated',
  },
  face: {
    right: 'to the reader’s right, on every tablet',
    left: 'to the reader’s left, on every tablet',
    threadTowards: 'to where the thread leaves it towards the reader',
    threadAway: 'to where the thread leaves it away from the reader',
    notStated: 'not stated',
  },
  sense: { anticlockwise: 'anticlockwise', clockwise: 'clockwise', notStated: 'not stated' },
  first: {
    topNear: 'at the top, near the reader',
    bottomNear: 'at the foot, near the reader',
    bottomFar: 'at the foot, far from the reader',
    topFar: 'at the top, far from the reader',
    notStated: 'not stated',
  },
  rows: {
    downward: 'at the top: rows read downward',
    upward: 'at the foot: rows read upward',
    notStated: 'not stated',
  },
  count: { left: 'the reader’s left', right: 'the reader’s right', notStated: 'not stated' },
}

/**
 * One answer of a card in words, with what was taken in its place where it is not stated.
 * @example sayAnswer(NOTHING_STATED, 'rows') // 'not stated; taken as at the top: rows read downward'
 */
export function sayAnswer(card: ConventionCard, question: Question): string {
  const words = ANSWER_WORDS[question] as Readonly<Record<string, string>>
  const answer = card[question]
  return answer === 'notStated' ? `not stated; taken as ${words[OUR_FRAME[question]]}` : words[answer]!
}

/**
 * What converting by a card changes, a sentence each; one sentence that nothing does where it is so.
 * @example sayChanges({ ...OUR_FRAME, forward: 'towards' }) // ['F and B changed places.']
 */
export function sayChanges(card: ConventionCard): string[] {
  const { tablets, picks, turns, slants, letters } = changesBy(card)
  const said = [
    tablets && 'The tablets stand in the opposite order.',
    picks && 'The picks stand in the opposite order.',
    turns && 'F and B changed places.',
    slants && 'S and Z changed places.',
    ...sayLetters(letters),
  ].filter((one) => one !== false)
  return said.length > 0 ? said : ['Nothing had to be converted: it says the same in our own frame.']
}

function sayLetters({ S, Z }: { readonly S: string; readonly Z: string }): string[] {
  const spelled = (letters: string) => letters.split('').join(', ')
  if (S === Z) return S === 'ABCD' ? [] : [`The author’s holes A, B, C, D are our ${spelled(S)}.`]
  const one = (kind: string, letters: string) =>
    letters === 'ABCD'
      ? `stay as they are where the thread slants ${kind}`
      : `are our ${spelled(letters)} where it slants ${kind}`
  return [`The author’s holes A, B, C, D ${one('S', S)}, and ${one('Z', Z)}.`]
}

/**
 * How a draft was written down, in a few words for a list.
 * @example sayWritten({ kind: 'unsaid' }) // 'convention card not filled in'
 */
export function sayWritten(written: Written): string {
  if (written.kind === 'unsaid') return 'convention card not filled in'
  if (written.kind === 'own') return 'made in our own frame'
  const open = listOpen(written.card).length
  if (open === QUESTIONS.length) return 'convention card filled in, nothing stated'
  if (open === 0) return 'converted by its convention card'
  return `converted by its convention card, ${open} of ${QUESTIONS.length} questions not stated`
}

/**
 * A sentence to put behind others wherever a draft is shown whose convention nobody has stated; empty for every other.
 * @example sayUnsaid({ kind: 'unsaid' }) // ' Its convention card is not filled in.'
 */
export function sayUnsaid(written: Written): string {
  return written.kind === 'unsaid' ? ' Its convention card is not filled in.' : ''
}
