import { countNumberWords, sayNumber } from './spoken-number.ts'

/** Neighbouring tablets that turn alike. */
interface Run {
  readonly count: number
  readonly turn: number
}

/** A stretch of a pick: runs that are said once, or so many times. */
interface Part {
  readonly times: number
  readonly runs: readonly Run[]
}

/** The shortest way to say one pick that our grammar knows. */
export interface PickWording {
  /** The left half alone is said, and the run in the middle. */
  readonly fromBothEdges: boolean
  readonly parts: readonly Part[]
  readonly middle: Run | undefined
  /** Words when it is said, numbers in words. */
  readonly words: number
}

/** How a turn is said. A half turn is two words. */
export const TURN_SAID: ReadonlyMap<number, string> = new Map([
  [1, 'forward'],
  [-1, 'back'],
  [0, 'idle'],
  [2, 'half forward'],
  [-2, 'half back'],
])

/** Longest stretch of runs within a pick that is looked at for being repeated. Our own bound. */
const LONGEST_UNIT = 6

/**
 * Finds the shortest wording of one pick: runs from the left, stretches of runs that come again (“three times two forward
 * and two back”), and, where the pick is symmetric, its left half and its middle.
 * @param row the turns of one pick, tablet 1 first, at least one
 * @throws RangeError when the row is empty or holds anything but 1, -1, 0, 2, -2
 * @example wordPick([1, 1, -1, -1, 1, 1]).words // 6: two forward, two back, two forward
 * Source: our own; fewest words, by dynamic programming over the runs.
 */
export function wordPick(row: ArrayLike<number>): PickWording {
  const runs = runsOf(row)
  const straight = partsOf(runs)
  let best: PickWording = { fromBothEdges: false, parts: straight.parts, middle: undefined, words: straight.words }
  if (runs.length === 1) return { ...best, words: 1 + wordsOfTurn(runs[0]!.turn) }
  const half = runs.length >> 1
  const symmetric =
    runs.length % 2 === 1 &&
    runs.slice(0, half).every(({ count, turn }, at) => {
      const other = runs[runs.length - 1 - at]!
      return other.count === count && other.turn === turn
    })
  if (symmetric) {
    const left = partsOf(runs.slice(0, half))
    const words = 3 + left.words + 1 + wordsOfRun(runs[half]!)
    if (words < best.words) best = { fromBothEdges: true, parts: left.parts, middle: runs[half], words }
  }
  return best
}

/** How many words a pick takes when its runs are simply told from the left. */
export function countPlainWords(row: ArrayLike<number>): number {
  return runsOf(row).reduce((sum, run) => sum + wordsOfRun(run), 0)
}

/**
 * A pick as it is said or written.
 * @param figures numbers in figures, for the eye; in words, for the ear, unless told
 * @example sayPick([1, 1, -1]) // 'two forward, one back'; sayPick([1, 1]) // 'all forward'
 */
export function sayPick(row: ArrayLike<number>, figures = false): string {
  const { fromBothEdges, parts, middle } = wordPick(row)
  const number = (value: number) => (figures ? String(value) : sayNumber(value))
  const run = ({ count, turn }: Run) => `${number(count)} ${TURN_SAID.get(turn)!}`
  if (parts.length === 1 && parts[0]!.times === 1 && !fromBothEdges && parts[0]!.runs.length === 1) {
    return `all ${TURN_SAID.get(parts[0]!.runs[0]!.turn)!}`
  }
  const said = parts.map(({ times, runs }) => {
    const joined = runs.map(run).join(' and ')
    return times === 1 ? joined : `${times === 2 ? 'twice' : `${number(times)} times`} ${joined}`
  })
  if (!fromBothEdges) return said.join(', ')
  return `from both edges ${said.join(', ')}, middle ${run(middle!)}`
}

function runsOf(row: ArrayLike<number>): Run[] {
  if (row.length === 0) throw new RangeError('row must hold at least one turn, not none')
  const runs: { count: number; turn: number }[] = []
  for (let at = 0; at < row.length; at++) {
    const turn = row[at]!
    if (!TURN_SAID.has(turn)) throw new RangeError(`row[${at}] must be from -2 to 2, got ${turn}`)
    const last = runs.at(-1)
    if (last?.turn === turn) last.count++
    else runs.push({ count: 1, turn })
  }
  return runs
}

const wordsOfTurn = (turn: number) => (Math.abs(turn) === 2 ? 2 : 1)
const wordsOfRun = ({ count, turn }: Run) => countNumberWords(count) + wordsOfTurn(turn)
const wordsOfTimes = (times: number) => (times === 2 ? 1 : countNumberWords(times) + 1)

/** Fewest words for runs from the left: each said once, or a stretch of them so many times. */
function partsOf(runs: readonly Run[]): { parts: Part[]; words: number } {
  const n = runs.length
  const words = new Float64Array(n + 1).fill(Infinity)
  const step = new Array<{ unit: number; times: number }>(n + 1)
  words[0] = 0
  const prefix = [0]
  for (const run of runs) prefix.push(prefix.at(-1)! + wordsOfRun(run))
  const reach = (to: number, cost: number, unit: number, times: number) => {
    if (cost >= words[to]!) return
    words[to] = cost
    step[to] = { unit, times }
  }
  for (let at = 0; at < n; at++) {
    reach(at + 1, words[at]! + wordsOfRun(runs[at]!), 1, 1)
    for (let unit = 2; unit <= LONGEST_UNIT && at + 2 * unit <= n; unit++) {
      const said = prefix[at + unit]! - prefix[at]! + unit - 1
      for (let times = 2, to = at + 2 * unit; to <= n; times++, to += unit) {
        if (!isAgain(runs, at, to - unit, unit)) break
        reach(to, words[at]! + said + wordsOfTimes(times), unit, times)
      }
    }
  }
  const parts: Part[] = []
  for (let to = n; to > 0;) {
    const { unit, times } = step[to]!
    to -= unit * times
    parts.unshift({ times, runs: runs.slice(to, to + unit) })
  }
  return { parts, words: words[n]! }
}

function isAgain(runs: readonly Run[], from: number, again: number, unit: number): boolean {
  for (let at = 0; at < unit; at++) {
    const [one, other] = [runs[from + at]!, runs[again + at]!]
    if (one.count !== other.count || one.turn !== other.turn) return false
  }
  return true
}
