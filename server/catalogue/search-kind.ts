/** In the order of their numbers in the row ids of the index (row id = id x 4 + number; of a yarn, - id). */
export const SEARCH_KINDS = ['original', 'piece', 'draft', 'source', 'yarn'] as const
export type SearchKind = (typeof SEARCH_KINDS)[number]
