/** So long the hand may rest before what it did is kept; edits that come sooner are kept together. Our own. */
export const REST_MS = 1000

/** Nothing waits longer than this to be kept, however quickly one edit follows the other: two seconds less the way. */
export const LONGEST_MS = 1500

/**
 * When what was done is to be kept.
 * @param firstMs when the first edit that is not kept was made, in ms on any clock
 * @param lastMs when the last one was made, on the same clock
 * @returns on that clock
 * @example keepAt(0, 300) // 1300
 * @example keepAt(0, 1400) // 1500
 */
export const keepAt = (firstMs: number, lastMs: number): number => Math.min(firstMs + LONGEST_MS, lastMs + REST_MS)
