import type { ColourKey, Draft } from './draft.ts'
import { turningOf } from './turning.ts'
import { weave } from './weave.ts'

/** Picks x tablets of colour key, null where nothing can be compared. */
export type FaceGrid = readonly (readonly (ColourKey | null)[])[]

/** Two faces laid over each other where they fit best. */
export interface FaceComparison {
  /** Cells in which both show a colour. */
  readonly cells: number
  readonly equal: number
  /** equal / cells, 0 when no cell can be compared. */
  readonly agreement: number
  /** Picks by which b was moved on: its pick 1 lies on pick 1 + shift of a. */
  readonly shift: number
  /** Whether b lies with its last tablet on tablet 1 of a. */
  readonly mirrored: boolean
  /** Pick and tablet of a, from 1; 100,000 at most. */
  readonly differing: readonly {
    readonly pick: number
    readonly tablet: number
    readonly a: ColourKey
    readonly b: ColourKey
  }[]
  /** How many more differ than are listed. */
  readonly differingLeftOut: number
  /** The furthest that b was moved either way. */
  readonly triedUpTo: number
}

const MOST_LISTED = 100_000
/** Looks at a cell that one comparison may take, about a second. Our own, by measuring. */
const MOST_LOOKS = 1_000_000_000

/**
 * Lays b over a where the most cells agree, moved on or back by picks, and mirrored left to right where that is better.
 * Of places that are as good, the one with the better share, then the smaller shift, then unmirrored.
 * @param a, b every row as long as the first; with different numbers of tablets the first ones are compared
 * @returns what agrees; moves of up to all picks are tried, fewer when the faces are so large that it would take long
 * @throws RangeError when a face has no cell or a ragged row
 * @example compareFaces([['m'], ['w'], ['w']], [['w'], ['w']]) // shift 1, cells 2, equal 2
 * Source: our own.
 */
export function compareFaces(a: FaceGrid, b: FaceGrid): FaceComparison {
  const codes = new Map<ColourKey, number>()
  const left = encode('a', a, codes)
  const plain = encode('b', b, codes)
  const mirror = encode(
    'b',
    b.map((row) => row.toReversed()),
    codes,
  )
  const most = Math.max(left.picks, plain.picks) - 1
  const looks = Math.min(left.picks, plain.picks) * Math.min(left.tablets, plain.tablets) * 4
  const triedUpTo = Math.min(most, Math.floor(MOST_LOOKS / looks))
  let best = { shift: 0, mirrored: false, ...overlap(left, plain, 0) }
  const look = (shift: number) => {
    if (shift <= -plain.picks || shift >= left.picks) return
    for (const mirrored of [false, true]) {
      const found = { shift, mirrored, ...overlap(left, mirrored ? mirror : plain, shift) }
      if (found.equal > best.equal || (found.equal === best.equal && found.cells < best.cells)) best = found
    }
  }
  for (let away = 0; away <= triedUpTo; away++) {
    look(away)
    if (away > 0) look(-away)
  }
  const { shift, mirrored, cells, equal } = best
  const differing = listDiffering(a, mirrored ? b.map((row) => row.toReversed()) : b, shift)
  return {
    ...{ cells, equal, shift, mirrored, triedUpTo },
    agreement: cells === 0 ? 0 : equal / cells,
    differing,
    differingLeftOut: cells - equal - differing.length,
  }
}

interface Encoded {
  readonly tablets: number
  readonly picks: number
  /** A number for each colour, 0 for none. */
  readonly cells: Uint16Array
}

function encode(name: string, face: FaceGrid, codes: Map<ColourKey, number>): Encoded {
  const picks = face.length
  const tablets = face[0]?.length ?? 0
  if (tablets === 0) throw new RangeError(`${name} must have at least one pick of at least one tablet`)
  const cells = new Uint16Array(picks * tablets)
  face.forEach((row, pick) => {
    if (row.length !== tablets) throw new RangeError(`${name}[${pick}] must have ${tablets} tablets, got ${row.length}`)
    row.forEach((key, tablet) => {
      if (key === null) return
      if (!codes.has(key)) codes.set(key, codes.size + 1)
      cells[pick * tablets + tablet] = codes.get(key)!
    })
  })
  return { tablets, picks, cells }
}

function overlap(a: Encoded, b: Encoded, shift: number): { cells: number; equal: number } {
  const tablets = Math.min(a.tablets, b.tablets)
  let cells = 0
  let equal = 0
  const end = Math.min(a.picks, b.picks + shift)
  for (let pick = Math.max(0, shift); pick < end; pick++) {
    const inA = pick * a.tablets
    const inB = (pick - shift) * b.tablets
    for (let tablet = 0; tablet < tablets; tablet++) {
      const one = a.cells[inA + tablet]!
      const other = b.cells[inB + tablet]!
      cells += one !== 0 && other !== 0 ? 1 : 0
      equal += one === other && one !== 0 ? 1 : 0
    }
  }
  return { cells, equal }
}

function listDiffering(a: FaceGrid, b: FaceGrid, shift: number): FaceComparison['differing'] {
  const differing: { pick: number; tablet: number; a: ColourKey; b: ColourKey }[] = []
  a.forEach((row, pick) =>
    row.forEach((one, tablet) => {
      const other = b[pick - shift]?.[tablet] ?? null
      if (one === null || other === null || one === other || differing.length >= MOST_LISTED) return
      differing.push({ pick: pick + 1, tablet: tablet + 1, a: one, b: other })
    }),
  )
  return differing
}

/**
 * What a draft shows on its face, to be compared: an empty hole shows the weft, and only a tablet that has not turned
 * yet shows nothing.
 * @throws RangeError when its picks cannot be read
 * @example faceGrid(draft)[0] // ['m', 'w']
 */
export function faceGrid(draft: Draft): (ColourKey | null)[][] {
  const { picks, tablets, face } = weave(draft, turningOf(draft))
  return Array.from({ length: picks }, (_, pick) =>
    draft.tablets.map(({ holes }, tablet) => {
      const hole = face[pick * tablets + tablet]!
      return hole < 0 ? null : (holes[hole] ?? draft.weft)
    }),
  )
}
