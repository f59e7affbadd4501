import { sql, type RawBuilder, type SqlBool } from 'kysely'

/**
 * Where a page of a list begins: behind the entry with this text and id. Both stand in the address, so that it still
 * leads to the same place when that entry is gone.
 */
export interface After {
  readonly id: number
  readonly text: string
}

export const toAfter = ({ id, text }: After): string => `${id}.${text}`

/** From an address; anything else is the start of the list. */
export function readAfter(typed: unknown): After | undefined {
  const found = typeof typed === 'string' ? /^([1-9]\d{0,14})\.([^\0]{0,2000})$/s.exec(typed) : null
  return found ? { id: Number(found[1]), text: found[2] ?? '' } : undefined
}

/** By key, never by offset: what is added or deleted on an earlier page moves nothing on the later ones. */
export function isAfter(text: RawBuilder<string>, id: RawBuilder<number>, after: After): RawBuilder<SqlBool> {
  return sql<SqlBool>`(${text} collate nocase, ${id}) > (${after.text}, ${after.id})`
}
