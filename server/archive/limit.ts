/** What an archive may be at most: far above a guild's twenty years, far below what would fill a disk. */
export const MOST_PACKED_BYTES = 2 * 1024 ** 3
export const MOST_UNPACKED_BYTES = 8 * 1024 ** 3
export const MOST_ENTRIES = 50_000
/** Unpacked to packed, of any entry over a megabyte. */
export const MOST_RATIO = 100
export const RATIO_FROM_BYTES = 1024 ** 2
/** Read into memory as a whole. */
export const MOST_JSON_BYTES = 128 * 1024 ** 2
