/** Longest texts that an archive may bring, in characters: never shorter than what a form takes. */
export const LENGTH_OF = { line: 2000, lines: 20_000, note: 64 * 1024 } as const
