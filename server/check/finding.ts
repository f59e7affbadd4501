/** Something that is not as it should be, and what a keeper can do about it. */
export interface Finding {
  readonly what: string
  readonly todo: string
}

/** `1 row`, `3 rows`. */
export const count = (number: number, one: string, many = `${one}s`): string => `${number} ${number === 1 ? one : many}`

/** The first few of many, in words. */
export function some(names: readonly string[], most = 5): string {
  const shown = names.slice(0, most).join(', ')
  return names.length > most ? `${shown} and ${names.length - most} more` : shown
}
