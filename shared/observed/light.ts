/** An uneven light over a band: the logarithm of how much brighter a place is lit than the mean of all cells. */
export interface LightSurface {
  /** Of u, v, u², u v, v², with u and v from -1 to 1 over tablets and picks. */
  readonly coefficients: readonly number[]
  /** One number a cell: the natural logarithm of its light over the mean. */
  readonly logLight: Float64Array
  /** The brightest cell's light over the darkest one's; 1 for even light. */
  readonly ratio: number
}

const TERMS = 5

/** The terms of the surface at the middle of a cell; the constant is left out, for only the unevenness counts. */
function termsAt(tablet: number, pick: number, tablets: number, picks: number, into: Float64Array): void {
  const u = tablets > 1 ? (2 * tablet) / (tablets - 1) - 1 : 0
  const v = picks > 1 ? (2 * pick) / (picks - 1) - 1 : 0
  into.set([u, v, u * u, u * v, v * v])
}

/**
 * The light before anything is known of the colours: neighbouring cells that differ little in light and not in hue are
 * taken for cells of one colour, and what they differ by for the slope of the light. Two cells that differ more than
 * their neighbours mostly do have no weight (Tukey's biweight).
 * @param light linear red, green, blue of each cell, as `sampleCells` gives it
 * @returns a surface of second degree
 * @example lightOfNeighbours(light, 21, 72).ratio // 1.8 for a band lit from one side
 * Source: our own.
 */
export function lightOfNeighbours(light: Float64Array, tablets: number, picks: number): LightSurface {
  const pairs = listPairs(light, tablets, picks)
  let coefficients = new Array<number>(TERMS).fill(0)
  const [here, there] = [new Float64Array(TERMS), new Float64Array(TERMS)]
  for (let round = 0; round < 6; round++) {
    const system = emptySystem(TERMS)
    for (const { from, to, step, hueStep } of pairs) {
      termsAt(from % tablets, Math.floor(from / tablets), tablets, picks, here)
      termsAt(to % tablets, Math.floor(to / tablets), tablets, picks, there)
      for (let term = 0; term < TERMS; term++) there[term] = there[term]! - here[term]!
      const left = step - dot(coefficients, there)
      addRow(system, there, step, biweight(left / 0.16) * biweight(hueStep / 0.12))
    }
    coefficients = solve(system)
  }
  return surfaceOf(coefficients, tablets, picks)
}

/**
 * The light, once each cell's colour is known: a surface of second degree through how much brighter each cell is than
 * its colour, by weighted least squares with Tukey's biweight.
 * @param logRatios natural logarithm of each cell's luminance over its colour's; NaN where it is not known
 * @param weights how sure each cell's colour is, 0 to 1
 * @example lightOfColours(logRatios, weights, 21, 72).logLight[0] // -0.2: the first cell has 18 % less light than the mean
 * Source: our own.
 */
export function lightOfColours(
  logRatios: Float64Array,
  weights: Float64Array,
  tablets: number,
  picks: number,
): LightSurface {
  const terms = new Float64Array(TERMS + 1)
  let coefficients = new Array<number>(TERMS + 1).fill(0)
  for (let round = 0; round < 4; round++) {
    const system = emptySystem(TERMS + 1)
    for (let cell = 0; cell < logRatios.length; cell++) {
      if (!Number.isFinite(logRatios[cell]!)) continue
      termsAt(cell % tablets, Math.floor(cell / tablets), tablets, picks, terms)
      terms[TERMS] = 1
      const left = logRatios[cell]! - dot(coefficients, terms)
      addRow(system, terms, logRatios[cell]!, weights[cell]! * (round === 0 ? 1 : biweight(left / 0.25)))
    }
    coefficients = solve(system)
  }
  return surfaceOf(coefficients.slice(0, TERMS), tablets, picks)
}

/**
 * The surface of these coefficients over a band of so many cells.
 * @example surfaceOf([0.1, 0, 0, 0, 0], 21, 72).ratio // 1.22
 */
export function surfaceOf(coefficients: readonly number[], tablets: number, picks: number): LightSurface {
  const logLight = new Float64Array(tablets * picks)
  const terms = new Float64Array(TERMS)
  let [sum, least, most] = [0, Infinity, -Infinity]
  for (let cell = 0; cell < logLight.length; cell++) {
    termsAt(cell % tablets, Math.floor(cell / tablets), tablets, picks, terms)
    const value = dot(coefficients, terms)
    logLight[cell] = value
    sum += value
    least = Math.min(least, value)
    most = Math.max(most, value)
  }
  for (let cell = 0; cell < logLight.length; cell++) logLight[cell]! -= sum / logLight.length
  return { coefficients, logLight, ratio: Math.exp(most - least) }
}

interface Pair {
  readonly from: number
  readonly to: number
  /** Difference of the logarithms of luminance, and the largest difference in the balance of the three colours. */
  readonly step: number
  readonly hueStep: number
}

function listPairs(light: Float64Array, tablets: number, picks: number): Pair[] {
  const logs = light.map((value) => Math.log(Math.max(value, 1e-4)))
  const pairs: Pair[] = []
  const add = (from: number, to: number) => {
    const [r, g, b] = [0, 1, 2].map((channel) => logs[to * 3 + channel]! - logs[from * 3 + channel]!) as [
      number,
      number,
      number,
    ]
    const step = (r + g + b) / 3
    const hueStep = Math.max(Math.abs(r - step), Math.abs(g - step), Math.abs(b - step))
    if (Number.isFinite(step) && Math.abs(step) < 0.5 && hueStep < 0.12) pairs.push({ from, to, step, hueStep })
  }
  for (let cell = 0; cell < tablets * picks; cell++) {
    if ((cell % tablets) + 1 < tablets) add(cell, cell + 1)
    if (cell + tablets < tablets * picks) add(cell, cell + tablets)
  }
  return pairs
}

const biweight = (share: number) => (Math.abs(share) < 1 ? (1 - share * share) ** 2 : 0)

function dot(a: readonly number[], b: Float64Array): number {
  let sum = 0
  for (let at = 0; at < a.length; at++) sum += a[at]! * b[at]!
  return sum
}

interface System {
  readonly matrix: Float64Array[]
  readonly right: Float64Array
}

const emptySystem = (size: number): System => ({
  matrix: Array.from({ length: size }, () => new Float64Array(size)),
  right: new Float64Array(size),
})

function addRow({ matrix, right }: System, terms: Float64Array, value: number, weight: number): void {
  if (weight === 0) return
  for (let i = 0; i < terms.length; i++) {
    for (let j = 0; j < terms.length; j++) matrix[i]![j]! += weight * terms[i]! * terms[j]!
    right[i]! += weight * terms[i]! * value
  }
}

/** Gauss with the largest pivot; a whisper of ridge keeps a term that the band cannot tell (one tablet, one pick) at 0. */
function solve({ matrix, right }: System): number[] {
  const size = right.length
  const rows = matrix.map((row, i) => [...row, right[i]!])
  for (let i = 0; i < size; i++) rows[i]![i]! += 1e-9 + 1e-6 * rows[i]![i]!
  for (let i = 0; i < size; i++) {
    let best = i
    for (let j = i + 1; j < size; j++) if (Math.abs(rows[j]![i]!) > Math.abs(rows[best]![i]!)) best = j
    ;[rows[i], rows[best]] = [rows[best]!, rows[i]!]
    for (let j = i + 1; j < size; j++) {
      const share = rows[j]![i]! / rows[i]![i]!
      for (let k = i; k <= size; k++) rows[j]![k]! -= share * rows[i]![k]!
    }
  }
  const values = new Array<number>(size).fill(0)
  for (let i = size - 1; i >= 0; i--) {
    let rest = rows[i]![size]!
    for (let j = i + 1; j < size; j++) rest -= rows[i]![j]! * values[j]!
    values[i] = rest / rows[i]![i]!
  }
  return values
}
