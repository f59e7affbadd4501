import { sql, type RawBuilder, type SqlBool } from 'kysely'
import type { Db } from '../db/open.ts'
import { rawRows } from '../db/raw.ts'

/** One filter of a list. In SQL it is an expression that says which of its choices an entry falls under. */
export interface Facet {
  /** The parameter in the address. */
  readonly name: string
  readonly label: string
  /** The choice that filters nothing. */
  readonly any: string
  readonly value: RawBuilder<string>
  /** What entries without it are called; "not given" unless something better is known. */
  readonly none?: string
  /** What a choice is called: an SQL expression, or the words of a closed list in their order. */
  readonly text: RawBuilder<string> | Readonly<Record<string, string>>
}

/** Facet name → chosen value; only the filters in use. */
export type Chosen = Readonly<Record<string, string>>

/** For text that may be left out, since a choice without a value filters nothing. */
export const NOT_GIVEN = '-'
export const orNotGiven = (text: RawBuilder<string>) =>
  sql<string>`case when coalesce(${text}, '') = '' then ${sql.lit(NOT_GIVEN)} else ${text} end`

export function readChosen(query: Readonly<Record<string, unknown>>, facets: readonly Facet[]): Chosen {
  const chosen: Record<string, string> = {}
  for (const { name } of facets) {
    const typed = query[name]
    if (typeof typed === 'string' && typed !== '' && typed.length <= 300) chosen[name] = typed
  }
  return chosen
}

/** Whether an entry passes the chosen filters, but for the one named `without`. */
export function passes(facets: readonly Facet[], chosen: Chosen, without?: string): RawBuilder<SqlBool> {
  const used = facets.filter(({ name }) => name !== without && chosen[name] !== undefined)
  const conditions = used.map(({ name, value }) => sql<SqlBool>`(${value}) = ${chosen[name]}`)
  return sql<SqlBool>`(${sql.join([sql`1`, ...conditions], sql` and `)})`
}

export interface Choice {
  readonly value: string
  readonly text: string
  /** How many entries it leaves, the other chosen filters taken into account. */
  readonly leaves: number
}

/** The choices of a facet that leave something, and the chosen one in any case. */
export function listChoices(
  db: Db,
  from: RawBuilder<unknown>,
  facets: readonly Facet[],
  facet: Facet,
  chosen: Chosen,
): Choice[] {
  const words = isExpression(facet.text) ? undefined : facet.text
  const none = facet.none ?? 'not given'
  const text = isExpression(facet.text) ? facet.text : facet.value
  const query = sql<Choice>`select ${facet.value} as value, min(${text}) as text,
    sum(${passes(facets, chosen, facet.name)}) as leaves from ${from} group by 1 order by 2 collate nocase, 1`
  const rows = rawRows(db, query)
  const choices = words
    ? inOrder(rows, words)
    : rows.map((row) => (row.value === NOT_GIVEN ? { ...row, text: none } : row))
  const picked = chosen[facet.name]
  if (picked !== undefined && !choices.some(({ value }) => value === picked)) {
    choices.push({ value: picked, text: words && Object.hasOwn(words, picked) ? words[picked]! : picked, leaves: 0 })
  }
  return choices.filter(({ value, leaves }) => leaves > 0 || value === picked)
}

const isExpression = (text: Facet['text']): text is RawBuilder<string> => typeof text.compile === 'function'

function inOrder(rows: readonly Choice[], words: Readonly<Record<string, string>>): Choice[] {
  return Object.entries(words).flatMap(([value, text]) => {
    const row = rows.find((candidate) => candidate.value === value)
    return row ? [{ ...row, text }] : []
  })
}
