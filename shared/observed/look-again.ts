import { deltaE2000 } from '../colour/lab.ts'
import type { ColourKey } from '../draft/draft.ts'
import type { ReadColours } from './read-colours.ts'

/** Why a colour found is perhaps no thread but soil, a hole or a shadow. */
export interface LookAgain {
  /** Legible cells of it, and of all: its base. */
  readonly cells: number
  readonly legible: number
  /** Tablets on which it shows, and the most that one of them shows of it, 0 to 1. */
  readonly tablets: number
  readonly mostOfTablet: number
  readonly isDark: boolean
  /** Place in `colours` of the nearest other colour that is a thread. */
  readonly nearest: number
}

/** A larger share of all cells than this is a colour of the band. */
const FEW = 0.06
/** On fewer tablets it may well be a thread that lies in them. */
const LEAST_TABLETS = 3
/** A thread in one hole of four shows in about a quarter of the picks of a tablet that keeps turning. */
const THREAD_SHARE = 0.15
/** CIELAB lightness and chroma below which cloth is dark, or of hardly any hue. */
const DARK = 35
const DULL = 14
/** As likely this colour as not. */
const SURE = 0.5

/**
 * Colours that are worth a second look: few cells, spread over several tablets, dark or of hardly any hue, and on none
 * of the tablets as often as a thread in one of its holes would show. A hint, and no more: an idle tablet hides a thread.
 * @param keys the key of each colour found; null for what counts as no thread already
 * @returns one for each colour found; undefined where there is nothing to look at again
 * @throws RangeError when there are not as many keys as colours
 * @example lookAgain(read, ['w', 'm', 'k'])[2]?.cells // 14
 * Source: our own; the bounds are by eye.
 */
export function lookAgain(read: ReadColours, keys: readonly (ColourKey | null)[]): readonly (LookAgain | undefined)[] {
  const { colours, labels, confidence, tablets } = read
  if (keys.length !== colours.length) {
    throw new RangeError(`keys must hold one for each of ${colours.length} colours, not ${keys.length}`)
  }
  const ofTablet = new Float64Array(tablets)
  const counts = colours.map(() => new Float64Array(tablets))
  labels.forEach((label, cell) => {
    if (label < 0 || confidence[cell]! <= SURE) return
    ofTablet[cell % tablets]!++
    counts[label]![cell % tablets]!++
  })
  const legible = ofTablet.reduce((sum, one) => sum + one, 0)
  return colours.map(({ lab }, at) => {
    const own = counts[at]!
    const cells = own.reduce((sum, one) => sum + one, 0)
    const shares = [...own].map((count, tablet) => (count === 0 ? 0 : count / ofTablet[tablet]!))
    const [onTablets, mostOfTablet] = [own.filter((count) => count > 0).length, Math.max(...shares)]
    const isDark = lab[0] < DARK
    const isDull = Math.hypot(lab[1], lab[2]) < DULL
    const others = colours
      .map((other, place) => ({ place, far: deltaE2000(lab, other.lab) }))
      .filter(({ place }) => place !== at && keys[place] !== null)
      .sort((a, b) => a.far - b.far)
    const isDoubtful = cells > 0 && cells < FEW * legible && onTablets >= LEAST_TABLETS && mostOfTablet < THREAD_SHARE
    if (keys[at] === null || !others[0] || !isDoubtful || !(isDark || isDull)) return undefined
    return { cells, legible, tablets: onTablets, mostOfTablet, isDark, nearest: others[0].place }
  })
}
