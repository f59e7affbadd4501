import type { BandMap } from './band-map.ts'
import { type Pixels, readLight } from './sample.ts'

/** A count that the picture's own rhythm speaks for. */
export interface CountOffer {
  readonly count: number
  /** How far the rhythm stands out: its strength over that of the other rhythms about it; under 2 says little. */
  readonly strength: number
}

export type Direction = 'across' | 'along'

/** Lines that are looked along, and points on each. */
const LINES = 61
const POINTS = 720
/** Fewer than this cannot be told from light and pattern. */
const LEAST_COUNT = 3
const MOST_OFFERS = 3

/**
 * How many tablets (across) or picks (along) the stretch may hold, by the rhythm of its stitches: every cell has the same
 * seams, so the steps of lightness along many lines repeat once a cell. Offered, never set: a pattern has rhythms too,
 * and a band of two-and-two threading may speak for half as many tablets.
 * @param map of the stretch; its own counts do not matter
 * @returns up to three counts, the strongest first; none for a picture without rhythm
 * @example offerCounts(pixels, map, 'across') // [{ count: 21, strength: 9.4 }, { count: 42, strength: 3.1 }]
 * Source: our own, on the mean periodogram of the lines, each point of it over the median of those about it.
 */
export function offerCounts(pixels: Pixels, map: BandMap, direction: Direction): CountOffer[] {
  const most = Math.floor(POINTS / 5)
  const power = new Float64Array(most + 1)
  for (let line = 0; line < LINES; line++) {
    const steps = stepsAlong(pixels, map, direction, (line + 0.5) / LINES)
    if (steps === undefined) continue
    for (let count = LEAST_COUNT; count <= most; count++) power[count]! += powerAt(steps, count)
  }
  return Array.from({ length: most + 1 }, (_, count) => ({ count, strength: standsOut(power, count, most) }))
    .filter(({ count, strength }) => strength >= 2 && isPeak(power, count))
    .sort((a, b) => b.strength - a.strength)
    .slice(0, MOST_OFFERS)
}

/** Steps of lightness from point to point, fading out at both ends, each at most as large as most of them. */
function stepsAlong(pixels: Pixels, map: BandMap, direction: Direction, at: number): Float64Array | undefined {
  const point = new Float64Array(4)
  const lights = Float64Array.from({ length: POINTS + 1 }, (_, i) => {
    const share = i / POINTS
    const place = direction === 'across' ? map.toPicture(share, at) : map.toPicture(at, share)
    readLight(pixels, place.x, place.y, point)
    return Math.cbrt(point[3]!)
  })
  const steps = lights.slice(1).map((light, i) => light - lights[i]!)
  if (steps.some(Number.isNaN)) return undefined
  const limit = 2 * steps.map(Math.abs).sort()[Math.floor(POINTS * 0.6)]! + 1e-6
  return steps.map((step, i) => Math.max(-limit, Math.min(limit, step)) * Math.sin((Math.PI * (i + 0.5)) / POINTS) ** 2)
}

const COSINES = Float64Array.from({ length: POINTS }, (_, i) => Math.cos((2 * Math.PI * i) / POINTS))

function powerAt(steps: Float64Array, count: number): number {
  let [cosine, sine] = [0, 0]
  for (let i = 0, turn = 0; i < POINTS; i++, turn = (turn + count) % POINTS) {
    cosine += steps[i]! * COSINES[turn]!
    sine += steps[i]! * COSINES[(turn + POINTS / 4) % POINTS]!
  }
  return cosine * cosine + sine * sine
}

function standsOut(power: Float64Array, count: number, most: number): number {
  if (count < LEAST_COUNT) return 0
  const [from, to] = [Math.max(LEAST_COUNT, Math.floor(count * 0.7)), Math.min(most, Math.ceil(count * 1.4) + 3)]
  const about = power.slice(from, to + 1).sort()
  const usual = about[Math.floor(about.length / 2)]!
  return usual > 0 ? power[count]! / usual : 0
}

const isPeak = (power: Float64Array, count: number) =>
  power[count]! >= (power[count - 1] ?? 0) && power[count]! >= (power[count + 1] ?? 0)
