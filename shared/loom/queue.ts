import type { StepKind } from './step.ts'

/** A step as the device keeps it and sends it. */
export interface KeptStep {
  readonly uid: string
  readonly seq: number
  readonly kind: StepKind
  readonly place: number
  /** What the device's clock said, ISO in UTC with milliseconds. */
  readonly deviceAt: string
  readonly zone: string
  /** The draft revision by which it was woven; null where the page knew none. */
  readonly revision: number | null
  /** The instant of the latest step that the server had told of; null where it had told of none. */
  readonly after: string | null
  readonly note: string
}

/** Steps in one message: a message has to come through a poor line. */
export const MOST_SENT = 200

/**
 * Where a step is kept on the device, one place a step, so that keeping one can harm no other.
 * @param whose the piece and the member, as `shelfOf` gives them
 */
export const placeOfStep = (whose: string, { seq, uid }: Pick<KeptStep, 'seq' | 'uid'>): string =>
  `${whose}step:${String(seq).padStart(10, '0')}:${uid}`

/** The beginning of every name under which a device keeps something of the loom. */
export const shelfOf = (base: string): string => `fellmark-loom:${base}:`

/** The beginning of the names of what is kept of one piece for one member; the lone maker is 0. */
export const pieceShelfOf = (base: string, piece: string, member: number): string =>
  `${shelfOf(base)}${piece}:${member}:`

/** Whether a name is that of a step, whosesoever. */
export const isStepName = (name: string): boolean => /:step:\d{10}:[0-9a-f]{32}$/.test(name)

/**
 * Reads a step as it was kept; undefined where it is none: another program may share the storage.
 */
export function readKept(text: string): KeptStep | undefined {
  let step: Partial<KeptStep> | null
  try {
    step = JSON.parse(text) as Partial<KeptStep> | null
  } catch {
    return undefined
  }
  const isOne = typeof step?.uid === 'string' && typeof step.seq === 'number' && typeof step.place === 'number'
  return isOne && typeof step?.deviceAt === 'string' ? (step as KeptStep) : undefined
}

/** What is sent next: the oldest steps first, as many as one message holds. */
export const nextToSend = (steps: readonly KeptStep[]): KeptStep[] =>
  [...steps].sort((left, right) => left.seq - right.seq || (left.uid < right.uid ? -1 : 1)).slice(0, MOST_SENT)

/**
 * How long to wait before trying again, doubling from 1 s to a minute.
 * @param failures one after the other, 1 or more
 * @example waitMs(1) // 1000; waitMs(10) // 60000
 */
export const waitMs = (failures: number): number =>
  Math.min(60_000, 1000 * 2 ** Math.min(10, Math.max(0, failures - 1)))
