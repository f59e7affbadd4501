/** How what the piece has stands to what is known of the original. */
export const RELATIONS = ['same', 'near', 'substituted', 'unknowable', 'notJudged'] as const
export type Relation = (typeof RELATIONS)[number]

export const RELATION_LABELS: Readonly<Record<Relation, string>> = {
  same: 'the same',
  near: 'near',
  substituted: 'substituted',
  unknowable: 'nobody can know',
  notJudged: 'not yet judged',
}

/** A share of likeness that is known only within bounds: 0 is unlike throughout, 1 the same. */
export interface Bounds {
  readonly low: number
  readonly high: number
}

/**
 * What each relation says of likeness. A convention of this program with no source: halves, for words carry no more.
 * What nobody can know, and what nobody has judged yet, goes in once as worst and once as best.
 */
export const RELATION_BOUNDS: Readonly<Record<Relation, Bounds>> = {
  same: { low: 1, high: 1 },
  near: { low: 0.5, high: 1 },
  substituted: { low: 0, high: 0.5 },
  unknowable: { low: 0, high: 1 },
  notJudged: { low: 0, high: 1 },
}

/** Why something else was taken than the original has. */
export const REASONS = ['unknown', 'unobtainable', 'price', 'safety', 'skill', 'time', 'wish', 'other'] as const
export type Reason = (typeof REASONS)[number]

export const REASON_LABELS: Readonly<Record<Reason, string>> = {
  unknown: 'the original is not known well enough',
  unobtainable: 'it was not to be had',
  price: 'the price',
  safety: 'safety',
  skill: 'skill',
  time: 'time',
  wish: 'the wish of whom it is for',
  other: 'something else',
}
