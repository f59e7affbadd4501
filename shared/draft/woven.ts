/** Quarter turns of every tablet at every pick: 1 forward, -1 back, 0 idle, 2 and -2 half turns. */
export interface Turning {
  readonly tablets: number
  readonly picks: number
  /** Row-major, pick by pick: `turns[pick * tablets + tablet]`, both counted from 0. */
  readonly turns: Int8Array
}

export const NO_SLANT = 0
/** The stitch leans like "/": it climbs to the weaver's right. */
export const SLASH = 1
/** The stitch leans like "\": it climbs to the weaver's left. */
export const BACKSLASH = 2

/**
 * What a draft weaves, on typed arrays of one size: `[pick * tablets + tablet]`, both counted from 0, pick 0 nearest
 * the weaver. Holes are 0 to 3 for A to D and -1 for "nothing shows yet" (idle before any turn).
 */
export interface Woven {
  readonly tablets: number
  readonly picks: number
  /** The hole whose thread shows on the face. */
  readonly face: Int8Array
  /** The hole whose thread shows on the reverse. */
  readonly reverse: Int8Array
  /** NO_SLANT (idle), SLASH or BACKSLASH, as seen on the face. */
  readonly slant: Uint8Array
  /** The hole at top-near after each pick; top-far holds the one before it in the order A, B, C, D. */
  readonly topNear: Int8Array
  /** Net quarter turns per tablet after the whole repeat, forward positive. */
  readonly net: Int32Array
}
