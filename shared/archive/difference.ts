import { canonicalJson, type Json } from './canonical.ts'

/** One field that says one thing here and another in the archive. */
export interface Difference {
  readonly field: string
  readonly here: Json
  readonly there: Json
}

/**
 * Two states of one record, field by field. A field that only one of them has counts as null in the other.
 * @param here the record as it stands in the notebook
 * @param there the record as it stands in the archive
 * @param ignored fields that say nothing about the thing itself
 * @returns the fields that differ, in the order of `here`, then those that only `there` has; none when both say the same
 * @example listDifferences({ a: 1, b: [1] }, { a: 1, b: [2] }) // [{ field: 'b', here: [1], there: [2] }]
 */
export function listDifferences(
  here: { readonly [key: string]: Json },
  there: { readonly [key: string]: Json },
  ignored: readonly string[] = [],
): Difference[] {
  const fields = [...new Set([...Object.keys(here), ...Object.keys(there)])]
  return fields.flatMap((field) => {
    if (ignored.includes(field)) return []
    const [one, other] = [valueOf(here, field), valueOf(there, field)]
    return canonicalJson(one) === canonicalJson(other) ? [] : [{ field, here: one, there: other }]
  })
}

const valueOf = (record: { readonly [key: string]: Json }, field: string): Json =>
  Object.hasOwn(record, field) ? (record[field] ?? null) : null
