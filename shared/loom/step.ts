/** What happened at the loom, by the word that is kept. */
export const STEP_KINDS = ['woven', 'back', 'unwoven', 'slip', 'pause', 'set'] as const
export type StepKind = (typeof STEP_KINDS)[number]

/** For people. `back`: the place was put right without unweaving. `set`: put by hand to where the work stands. */
export const STEP_LABELS: Readonly<Record<StepKind, string>> = {
  woven: 'Woven',
  back: 'Back',
  unwoven: 'Unwoven',
  slip: 'Slip',
  pause: 'Pause',
  set: 'Place set',
}

/** As many repeats of as many picks as the largest draft has would take years; more than this is a mistake. */
export const MOST_PLACE = 10_000_000

/** What decides between steps, whichever device they come from. */
export interface Placed {
  /** 32 hex digits, made by the device. */
  readonly uid: string
  /** Picks of the piece that are woven after this step, from its beginning and over all repeats. */
  readonly place: number
  /** Instant in UTC, with milliseconds. */
  readonly at: string
}

/** Whether the left step comes after the right one: by its instant, and by its uid within one millisecond. Our own rule. */
export const isLater = (left: Placed, right: Placed): boolean =>
  left.at === right.at ? left.uid > right.uid : left.at > right.at

/**
 * The step that says where the work stands; undefined where there is none.
 * @example latestOf([{ at: …09:00, place: 4 }, { at: …09:01, place: 5 }]) // place 5
 */
export function latestOf<S extends Placed>(steps: readonly S[]): S | undefined {
  return steps.reduce<S | undefined>((latest, step) => (latest && isLater(latest, step) ? latest : step), undefined)
}

/**
 * Steps of several devices as one history: each once, in the order in which they happened.
 * @example mergeSteps(ofPhone, ofTablet)
 */
export function mergeSteps<S extends Placed>(...histories: readonly (readonly S[])[]): S[] {
  const all = new Map(histories.flat().map((step) => [step.uid, step]))
  return [...all.values()].sort((left, right) => (isLater(left, right) ? 1 : -1))
}
