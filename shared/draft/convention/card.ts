/**
 * The convention card: how the author of a draft writes one down. Every answer is the author's own, said from where the
 * author's reader stands: "left", "near" and "towards" are that reader's. `notStated` is an answer too: the publication
 * does not say.
 */
export interface ConventionCard {
  /** At which end the reader stands: at the woven cloth, or at the bare warp and looking back to the cloth. */
  readonly end: 'woven' | 'warp' | NotStated
  /** What F means: the top edge goes away from the reader, or comes towards the reader. */
  readonly forward: 'away' | 'towards' | NotStated
  /** What S and Z name: the slant of the thread, or the tilt of the tablet; seen from above, and opposite. */
  readonly slant: 'thread' | 'tablet' | NotStated
  /**
   * To which side the lettered face of a tablet looks: always to the reader's right, or left; or to the side where the
   * thread leaves the tablet towards the reader (right in S, left in Z), or to the other (left in S, right in Z).
   */
  readonly face: 'right' | 'left' | 'threadTowards' | 'threadAway' | NotStated
  /** How the letters A, B, C, D run for somebody who looks at that face. */
  readonly sense: 'anticlockwise' | 'clockwise' | NotStated
  /** Where hole A stands before the first pick, in a tablet for which nothing else is said. */
  readonly first: 'topNear' | 'bottomNear' | 'bottomFar' | 'topFar' | NotStated
  /** How the rows of the turning stand on the page: the first pick at the top, or at the foot. */
  readonly rows: 'downward' | 'upward' | NotStated
  /** From which side of the band, seen by the reader, tablet 1 counts. */
  readonly count: 'left' | 'right' | NotStated
}

export type NotStated = 'notStated'
export type Question = keyof ConventionCard

/** Every question with its answers, in the order in which they are asked; the first answer is that of our own frame. */
export const ANSWERS = {
  end: ['woven', 'warp', 'notStated'],
  forward: ['away', 'towards', 'notStated'],
  slant: ['thread', 'tablet', 'notStated'],
  face: ['right', 'left', 'threadTowards', 'threadAway', 'notStated'],
  sense: ['anticlockwise', 'clockwise', 'notStated'],
  first: ['topNear', 'bottomNear', 'bottomFar', 'topFar', 'notStated'],
  rows: ['downward', 'upward', 'notStated'],
  count: ['left', 'right', 'notStated'],
} as const satisfies { readonly [Q in Question]: readonly ConventionCard[Q][] }

export const QUESTIONS = Object.keys(ANSWERS) as readonly Question[]

/** The frame of the whole program (see `weave`) as a card: converting by it changes nothing. */
export const OUR_FRAME: ConventionCard = {
  ...{ end: 'woven', forward: 'away', slant: 'thread', face: 'right', sense: 'anticlockwise', first: 'topNear' },
  ...{ rows: 'downward', count: 'left' },
}

/** A card on which nothing is stated. */
export const NOTHING_STATED: ConventionCard = {
  ...{ end: 'notStated', forward: 'notStated', slant: 'notStated', face: 'notStated', sense: 'notStated' },
  ...{ first: 'notStated', rows: 'notStated', count: 'notStated' },
}

/**
 * The card that a draft is converted by: what is not stated is taken to be as in our frame.
 * @example assumed({ ...OUR_FRAME, rows: 'notStated' }).rows // 'downward'
 */
export function assumed(card: ConventionCard): ConventionCard {
  const entries = QUESTIONS.map((question) => [
    question,
    card[question] === 'notStated' ? OUR_FRAME[question] : card[question],
  ])
  return Object.fromEntries(entries) as unknown as ConventionCard
}

/**
 * Reads a card from anything, as it comes from JSON or from a form: every question answered by one of its answers, and
 * nothing else in it.
 * @returns undefined when it is no card
 * @example readCard({ ...OUR_FRAME, rows: 'sideways' }) // undefined
 */
export function readCard(input: unknown): ConventionCard | undefined {
  if (typeof input !== 'object' || input === null || Array.isArray(input)) return undefined
  const given = input as Record<string, unknown>
  if (Object.keys(given).length !== QUESTIONS.length) return undefined
  const isAnswer = (question: Question) =>
    Object.hasOwn(given, question) && (ANSWERS[question] as readonly unknown[]).includes(given[question])
  if (!QUESTIONS.every(isAnswer)) return undefined
  return Object.fromEntries(QUESTIONS.map((question) => [question, given[question]])) as unknown as ConventionCard
}
