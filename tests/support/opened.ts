/** How to do away with what the tests of this file have opened and made; see `clear-away.ts`. */
export const opened: (() => void | Promise<void>)[] = []
