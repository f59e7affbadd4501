/** A colour key of a draft: 1 to 8 of a-z and 0-9. */
export type ColourKey = string

/** Hole letters in the order in which forward turns bring them to top-near. */
export const HOLES = ['A', 'B', 'C', 'D'] as const
export type Hole = (typeof HOLES)[number]

export interface Colour {
  readonly name: string
  /** `#rrggbb`, lower case. */
  readonly hex: string
}

export interface Tablet {
  /** Which way the thread slants through the tablet, seen from above: like the middle stroke of S, or of Z. */
  readonly threading: 'S' | 'Z'
  /** Colour key of the thread in holes A, B, C, D; null is an empty hole. */
  readonly holes: readonly [ColourKey | null, ColourKey | null, ColourKey | null, ColourKey | null]
  /** The hole that is top-near before the first pick. */
  readonly start: Hole
  readonly part: 'border' | 'pattern'
}

/** The draft document: threading and turning of one band. */
export interface Draft {
  readonly title: string
  readonly colours: Readonly<Record<ColourKey, Colour>>
  readonly weft: ColourKey
  readonly tablets: readonly Tablet[]
  /** One line a pick, runs of tablets from tablet 1 on: `2F 1I 4(2B)`. */
  readonly picks: readonly string[]
}

export const MOST_TABLETS = 400
export const MOST_PICKS = 20_000
