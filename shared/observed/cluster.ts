import { requireWhole } from '../measure/argument.ts'

/** At most this many colours are told apart in a band. */
export const MOST_FOUND = 8

/** Groups of cells of one colour. */
export interface Clusters {
  /** CIELAB of each colour, three numbers each. */
  readonly centres: Float64Array
  /** The colour of each cell, from 0; -1 where the cell has no colour (NaN). */
  readonly labels: Int8Array
}

/** So many cells are looked at to find first centres; more would cost their square and add nothing. */
const LOOKED_AT = 1200
const ROUNDS = 40
/** A colour reaches at least so far from its centre, in CIELAB, however even the picture. */
const LEAST_EDGE = 8
/** So many places more than colours are tried as centres. */
const SPARE = 4

/** The cells that have a colour, those that are looked at, and how far each of these must go to meet others. */
export interface Crowd {
  readonly cells: Int32Array
  readonly looked: Int32Array
  readonly reach: Float64Array
}

/**
 * What is the same of a band's cells however many colours they are sorted into; it takes most of the time of sorting.
 * @param labs CIELAB of each cell, three numbers each; NaN where there is none
 */
export function crowdOf(labs: Float64Array): Crowd {
  const cells = listKnown(labs)
  const looked = lookedAt(cells)
  return { cells, looked, reach: reachOf(labs, looked) }
}

/**
 * Sorts cells into k colours: k-means in CIELAB, with first centres that are chosen and not drawn by lot. The first is
 * the cell with the closest neighbours, each further one the cell that lies farthest from those chosen, where cells with
 * few neighbours count less: stains and holes are as far away as a colour, but not as close together. A centre is the
 * mean of its cells but for those more than three times as far as half of them. Then centres are exchanged for others
 * as long as that brings cells closer, where a cell that is far from all counts as one at the edge.
 * @param labs CIELAB of each cell, three numbers each; NaN where there is none
 * @param k how many colours, 1 to 8
 * @param crowd what `crowdOf` says of these cells
 * @returns the same groups for the same cells, the largest group first
 * @throws RangeError when k is out of range or there are fewer cells than colours
 * @example clusterColours(labs, 3).centres.length // 9
 * Source: k-means of Lloyd; the choice of first centres after k-means++ of Arthur and Vassilvitskii, without its chance.
 */
export function clusterColours(labs: Float64Array, k: number, crowd: Crowd = crowdOf(labs)): Clusters {
  requireWhole('k', k, 1)
  if (k > MOST_FOUND) throw new RangeError(`k must be at most ${MOST_FOUND}, not ${k}`)
  const { cells, looked } = crowd
  if (cells.length < k) throw new RangeError(`labs must hold at least ${k} cells with a colour, not ${cells.length}`)
  // Chosen one after the other, so the first k of more are the k that would be chosen of k.
  const chosen = firstCentres(labs, crowd, Math.min(looked.length, k + SPARE))
  const first = settle(labs, looked, chosen.slice(0, k * 3))
  const spare = settle(labs, looked, chosen)
  const { centres, labels } = settle(labs, cells, exchange(labs, looked, first.centres, spare.centres))
  return bySize(centres, labels, k)
}

/** Centres that are moved to the middle of their cells until no cell changes its colour. */
function settle(labs: Float64Array, cells: Int32Array, from: Float64Array) {
  const centres = from.slice()
  const labels = new Int8Array(labs.length / 3).fill(-1)
  const distances = new Float64Array(labels.length)
  for (let round = 0; round < ROUNDS; round++) {
    if (assign(labs, cells, centres, labels, distances) === 0) break
    moveCentres(labs, cells, centres, labels, distances)
  }
  return { centres, labels }
}

/**
 * A centre among stains is given up for one among cells of a colour: what counts is the square of each cell's distance,
 * but no cell counts more than one at the edge of its colour, so that strangers weigh the same wherever a centre is.
 */
function exchange(labs: Float64Array, cells: Int32Array, centres: Float64Array, spare: Float64Array): Float64Array {
  const nearest = Float64Array.from(cells, (cell) => Math.sqrt(squareToNearest(labs, cell, spare))).sort()
  const edge = Math.max(LEAST_EDGE, 4 * nearest[Math.floor(cells.length / 2)]!) ** 2
  /** Not summed to the end where it is too much already. */
  const cost = (tried: Float64Array, tooMuch: number) => {
    let sum = 0
    for (let at = 0; at < cells.length && sum < tooMuch; at++) {
      sum += Math.min(edge, squareToNearest(labs, cells[at]!, tried))
    }
    return sum
  }
  let [best, least] = [centres, cost(centres, Infinity)]
  for (let round = 0, better = true; better && round < MOST_FOUND; round++) {
    better = false
    const now = best
    for (let out = 0; out < now.length; out += 3) {
      for (let into = 0; into < spare.length; into += 3) {
        const tried = now.slice()
        tried.set(spare.subarray(into, into + 3), out)
        const costs = cost(tried, least * 0.999)
        if (costs < least * 0.999) [best, least, better] = [tried, costs, true]
      }
    }
  }
  return best
}

function squareToNearest(labs: Float64Array, cell: number, centres: Float64Array): number {
  let least = Infinity
  for (let colour = 0; colour * 3 < centres.length; colour++) {
    const square = squareBetween(labs, cell, centres, colour)
    if (square < least) least = square
  }
  return least
}

/** Cells whose colour is known. */
export function listKnown(labs: Float64Array): Int32Array {
  const known: number[] = []
  for (let cell = 0; cell * 3 < labs.length; cell++) {
    if (Number.isFinite(labs[cell * 3]! + labs[cell * 3 + 1]! + labs[cell * 3 + 2]!)) known.push(cell)
  }
  return Int32Array.from(known)
}

function squareBetween(a: Float64Array, i: number, b: Float64Array, j: number): number {
  const l = a[i * 3]! - b[j * 3]!
  const m = a[i * 3 + 1]! - b[j * 3 + 1]!
  const n = a[i * 3 + 2]! - b[j * 3 + 2]!
  return l * l + m * m + n * n
}

function lookedAt(cells: Int32Array): Int32Array {
  const stride = Math.max(1, Math.ceil(cells.length / LOOKED_AT))
  // Not every n-th cell: a step that divides the number of tablets would look at some tablets only.
  return cells.filter((_, at) => Math.floor(((at * 0.6180339887) % 1) * stride) === 0)
}

function firstCentres(labs: Float64Array, { looked, reach }: Crowd, k: number): Float64Array {
  const usual = [...reach].sort((a, b) => a - b)[Math.floor(reach.length / 2)]! + 1e-9
  const crowding = reach.map((one) => Math.min(1, (usual / (one + 1e-9)) ** 2))
  const nearest = new Float64Array(looked.length).fill(Infinity)
  const centres = new Float64Array(k * 3)
  let next = reach.indexOf(Math.min(...reach))
  for (let colour = 0; colour < k; colour++) {
    centres.set(labs.subarray(looked[next]! * 3, looked[next]! * 3 + 3), colour * 3)
    let best = -1
    for (let at = 0; at < looked.length; at++) {
      nearest[at] = Math.min(nearest[at]!, squareBetween(labs, looked[at]!, centres, colour))
      const score = nearest[at]! * crowding[at]!
      if (score > best) [best, next] = [score, at]
    }
  }
  return centres
}

/** How far one must go from each cell to meet half a per cent of the others, and at least three. */
function reachOf(labs: Float64Array, cells: Int32Array): Float64Array {
  const rank = Math.min(cells.length - 1, Math.max(3, Math.floor(cells.length * 0.005)))
  // The nearest in order, and no more: sorting all would take most of the time of a reading.
  const nearest = new Float64Array(rank + 1)
  return Float64Array.from(cells, (cell) => {
    nearest.fill(Infinity)
    for (const other of cells) {
      const square = squareBetween(labs, cell, labs, other)
      if (square >= nearest[rank]!) continue
      let at = rank
      for (; at > 0 && nearest[at - 1]! > square; at--) nearest[at] = nearest[at - 1]!
      nearest[at] = square
    }
    return Math.sqrt(nearest[rank]!)
  })
}

function assign(
  labs: Float64Array,
  cells: Int32Array,
  centres: Float64Array,
  labels: Int8Array,
  distances: Float64Array,
): number {
  let changed = 0
  for (const cell of cells) {
    let best = Infinity
    let label = 0
    for (let colour = 0; colour * 3 < centres.length; colour++) {
      const square = squareBetween(labs, cell, centres, colour)
      if (square >= best) continue
      best = square
      label = colour
    }
    distances[cell] = Math.sqrt(best)
    if (labels[cell] !== label) changed++
    labels[cell] = label
  }
  return changed
}

function moveCentres(
  labs: Float64Array,
  cells: Int32Array,
  centres: Float64Array,
  labels: Int8Array,
  distances: Float64Array,
): void {
  const own = new Float64Array(cells.length)
  for (let colour = 0; colour * 3 < centres.length; colour++) {
    let many = 0
    for (const cell of cells) if (labels[cell] === colour) own[many++] = distances[cell]!
    if (many === 0) continue
    const limit = 3 * placeInOrder(own.subarray(0, many), Math.floor(many / 2)) + 1e-9
    let near = 0
    const sums = [0, 0, 0]
    for (const cell of cells) {
      if (labels[cell] !== colour || distances[cell]! > limit) continue
      near++
      for (let axis = 0; axis < 3; axis++) sums[axis]! += labs[cell * 3 + axis]!
    }
    for (let axis = 0; axis < 3; axis++) centres[colour * 3 + axis] = sums[axis]! / near
  }
}

/** What would stand at a place if the numbers were in order; they are moved about. By the halving of quicksort. */
function placeInOrder(numbers: Float64Array, place: number): number {
  let [low, high] = [0, numbers.length - 1]
  while (low < high) {
    const pivot = numbers[(low + high) >> 1]!
    let [up, down] = [low, high]
    while (up <= down) {
      while (numbers[up]! < pivot) up++
      while (numbers[down]! > pivot) down--
      if (up > down) break
      const held = numbers[up]!
      numbers[up++] = numbers[down]!
      numbers[down--] = held
    }
    if (place <= down) high = down
    else if (place >= up) low = up
    else break
  }
  return numbers[place]!
}

function bySize(centres: Float64Array, labels: Int8Array, k: number): Clusters {
  const sizes = new Array<number>(k).fill(0)
  for (const label of labels) if (label >= 0) sizes[label]!++
  const order = sizes.map((_, colour) => colour).sort((a, b) => sizes[b]! - sizes[a]! || a - b)
  const placeOf = order.map((_, colour) => order.indexOf(colour))
  return {
    centres: Float64Array.from({ length: k * 3 }, (_, at) => centres[order[Math.floor(at / 3)]! * 3 + (at % 3)]!),
    labels: labels.map((label) => (label < 0 ? -1 : placeOf[label]!)),
  }
}
