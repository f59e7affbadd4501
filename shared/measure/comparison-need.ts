import type { KnownQuantity } from './quantity.ts'
import { ratioOf } from './ratio.ts'

type SideName = 'original' | 'replica'
export type Sides = Readonly<Record<SideName, KnownQuantity>>

/** What an undecided comparison waits for. */
export interface Need {
  /**
   * `uncertainty`: a side has none; `resolution`: readings are all alike and the ruler's step is not known;
   * `moreReadings`: so many more would do; `smallerUncertainty`: no number of readings up to 100 would do.
   */
  readonly key: 'uncertainty' | 'resolution' | 'moreReadings' | 'smallerUncertainty'
  readonly side: SideName | 'both'
  /** How many more readings, of each side named; null unless the key is `moreReadings`. */
  readonly readings: number | null
  /** One or two sentences for people. */
  readonly sentence: string
}

/** Beyond this many further readings nobody will take them. Our own limit. */
export const MOST_MORE_READINGS = 100

const NAMES: readonly SideName[] = ['original', 'replica']

/**
 * What keeps the uncertainty of a comparison from being stated at all.
 * @param sides what is known of the two
 * @param uRatio standard uncertainty of the ratio as far as it is known
 * @returns the need, or undefined when nothing is missing
 * @example findMissing(sides of { value: 13 } and { readings: [20, 21] }, 0.04)?.side // 'original'
 */
export function findMissing(sides: Sides, uRatio: number): Need | undefined {
  const without = NAMES.filter((name) => sides[name].u === null)
  if (without.length > 0) {
    const sentence = without.map((name) => lacking(name, sides[name])).join(' ')
    return { key: 'uncertainty', side: toSideName(without), readings: null, sentence }
  }
  const alike = uRatio === 0 ? NAMES.filter((name) => sides[name].isAlike) : []
  if (alike.length === 0) return undefined
  const sentence = `All readings of the ${alike.join(' and of the ')} are alike: give the resolution of the ruler.`
  return { key: 'resolution', side: toSideName(alike), readings: null, sentence }
}

/**
 * What would narrow an interval that holds 1 and is too wide to say so with any use: the least number of further
 * readings, of the replica if they will do (it is at hand), else of the original, else of both, at the scatter seen so far,
 * until the interval reaches no further than the difference seen, or than `enough`, whichever is more.
 * @param sides what is known of the two, each with an uncertainty
 * @param ratio replica over original
 * @param enough half-width at which the comparison counts as decided
 * @returns the need; it is an estimate, because further readings may scatter otherwise
 * @example // replica readings 18 and 22 against 20 exactly: 2 more readings
 */
export function findNeed(sides: Sides, ratio: number, enough: number): Need {
  const target = Math.max(enough, Math.abs(ratio - 1))
  const trials: readonly (readonly SideName[])[] = [['replica'], ['original'], ['original', 'replica']]
  for (const names of trials.filter((trial) => trial.every((name) => sides[name].s !== null))) {
    for (let more = 1; more <= MOST_MORE_READINGS; more += 1) {
      if (halfWidth(names.reduce((all, name) => withReadings(all, name, more), sides)) > target) continue
      const who = names.map((name) => `the ${name}`).join(' and as many of ')
      const sentence =
        `About ${more} more ${more === 1 ? 'reading' : 'readings'} of ${who}, scattered as those so far, would bring ` +
        `the interval to within ${target.toFixed(2)} of the ratio and decide it.`
      return { key: 'moreReadings', side: toSideName(names), readings: more, sentence }
    }
  }
  const side = relative(sides.original) > relative(sides.replica) ? 'original' : 'replica'
  const sentence =
    `More readings alone would not decide it: what is uncertain is the ${side}'s own value. ` +
    'A finer ruler, or a value stated with a smaller uncertainty, would.'
  return { key: 'smallerUncertainty', side, readings: null, sentence }
}

function lacking(name: SideName, { isStated }: KnownQuantity): string {
  // Readings are without an uncertainty in one case only: there is one of them, and nothing is known of the ruler.
  return isStated
    ? `The ${name} is stated without an uncertainty: give its standard uncertainty, or the readings behind it.`
    : `The ${name} has one reading and no resolution: give the resolution of the ruler, or read it at other places too.`
}

function withReadings(sides: Sides, name: SideName, more: number): Sides {
  const side = sides[name]
  const n = (side.n ?? 0) + more
  // With a scatter there is a type A part, and it comes first.
  const parts = [{ u: (side.s ?? 0) / Math.sqrt(n), df: n - 1 }, ...side.parts.slice(1)]
  return { ...sides, [name]: { ...side, n, parts } }
}

function halfWidth({ original, replica }: Sides): number {
  const { interval } = ratioOf(replica, original)
  return (interval[1] - interval[0]) / 2
}

function relative({ mean, u }: KnownQuantity): number {
  return (u ?? 0) / mean
}

function toSideName(names: readonly SideName[]): SideName | 'both' {
  return names.length === 2 ? 'both' : (names[0] ?? 'both')
}
