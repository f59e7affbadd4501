/** Columns drawn upward in steps, the same stretches of steps coming back again and again. */
export interface Dictionary {
  /** What belongs into `<defs>`. */
  readonly defs: string
  /** What draws each column, in the order asked for. */
  readonly columns: readonly string[]
}

// Bytes of one `<use href="#…" y="…"/>`, measured.
const USE_BYTES = 32
const LONGEST_STRETCH = 32
const MOST_KINDS = 2 ** 24

/**
 * Draws columns of numbered steps and writes each stretch of steps that comes back only once. How many steps are taken
 * together (1, 2, 4, … 32) is chosen so that the result is about as short as it can be.
 * @param columns the steps of each column from the bottom up, whole numbers from 0 to 16 million
 * @param stepUnits height of a step in the units of the drawing
 * @param stepBytes how long one drawn step is on average, to choose by
 * @param idPrefix begins every id; must differ between the dictionaries of one page
 * @param draw SVG for a stretch of steps, the first of them standing `at` units up
 * @example columns that hold 1, 1, 1, 1 come out as one definition and its uses
 * Source: our own.
 */
export function drawByDictionary(
  columns: readonly Uint32Array[],
  stepUnits: number,
  stepBytes: number,
  idPrefix: string,
  draw: (steps: Uint32Array, at: number) => string,
): Dictionary {
  const { stretch, kinds, cut } = bestCut(columns, stepBytes)
  const counts = new Uint32Array(kinds)
  for (const column of cut) for (const kind of column) counts[kind]!++
  const first = new Map<number, Uint32Array>()
  cut.forEach((column, at) => {
    column.forEach((kind, place) => {
      if (!first.has(kind)) first.set(kind, columns[at]!.subarray(place * stretch, (place + 1) * stretch))
    })
  })
  let defs = ''
  for (const [kind, steps] of first) {
    if (counts[kind]! > 1) defs += `<g id="${idPrefix}${kind.toString(36)}">${draw(steps, 0)}</g>`
  }
  const drawn = cut.map((column) => {
    let words = ''
    column.forEach((kind, place) => {
      const y = place * stretch * stepUnits
      if (counts[kind] === 1) words += draw(first.get(kind)!, y)
      else words += `<use href="#${idPrefix}${kind.toString(36)}"${y === 0 ? '' : ` y="${y}"`}/>`
    })
    return words
  })
  return { defs, columns: drawn }
}

interface Cut {
  readonly stretch: number
  /** How many different stretches there are; they are numbered from 0. */
  readonly kinds: number
  /** For each column the number of each of its stretches. */
  readonly cut: readonly Uint32Array[]
}

/** Stretches twice as long are pairs of the ones before, so that trying all lengths costs little more than one. */
function bestCut(columns: readonly Uint32Array[], stepBytes: number): Cut {
  let cut = numbered(columns, (column, place) => column[place]!, 1)
  let best = cut
  let least = bytesOf(cut, stepBytes)
  while (cut.stretch < LONGEST_STRETCH && cut.cut.some((column) => column.length > 1)) {
    cut = numbered(
      cut.cut,
      (column, place) => column[2 * place]! * MOST_KINDS + (column[2 * place + 1] ?? MOST_KINDS - 1),
      cut.stretch * 2,
    )
    const bytes = bytesOf(cut, stepBytes)
    if (bytes < least) [best, least] = [cut, bytes]
  }
  return best
}

const bytesOf = ({ stretch, kinds, cut }: Cut, stepBytes: number) =>
  kinds * stretch * stepBytes + cut.reduce((sum, column) => sum + column.length, 0) * USE_BYTES

/** Numbers what `keyOf` tells apart, in the order of its first coming. */
function numbered(
  columns: readonly Uint32Array[],
  keyOf: (column: Uint32Array, place: number) => number,
  stretch: number,
): Cut {
  const numbers = new Map<number, number>()
  const cut = columns.map((column) => {
    const short = new Uint32Array(stretch === 1 ? column.length : Math.ceil(column.length / 2))
    for (let place = 0; place < short.length; place++) {
      const key = keyOf(column, place)
      let number = numbers.get(key)
      if (number === undefined) numbers.set(key, (number = numbers.size))
      short[place] = number
    }
    return short
  })
  return { stretch, kinds: numbers.size, cut }
}
