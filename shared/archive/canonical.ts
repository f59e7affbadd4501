/** What JSON can hold. */
export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json }

/**
 * One text for one value: keys in the order of their UTF-16 units, two spaces a level, a line feed at the end. Two values
 * that say the same give the same bytes, so that archives can be compared by their hash. Lists keep their order.
 * @param value anything that JSON can hold; numbers are finite
 * @returns JSON text; -0 is written as 0
 * @throws RangeError for a number that is not finite, which JSON has no word for
 * @example canonicalJson({ b: 1, a: [null] }) // '{\n  "a": [\n    null\n  ],\n  "b": 1\n}\n'; canonicalJson({ a: NaN }) throws
 * Source: our own; the order of keys is that of RFC 8785 (JSON Canonicalization Scheme), 3.2.3.
 */
export function canonicalJson(value: Json): string {
  return `${write(value, '')}\n`
}

function write(value: Json, indent: string): string {
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new RangeError(`value must be finite, not ${value}`)
    return JSON.stringify(value === 0 ? 0 : value)
  }
  if (value === null || typeof value !== 'object') return JSON.stringify(value)
  const inner = `${indent}  `
  if (isList(value))
    return block(
      '[',
      value.map((each) => inner + write(each, inner)),
      `${indent}]`,
    )
  // The default order of sort is that of UTF-16 units.
  const keys = Object.keys(value).sort()
  return block(
    '{',
    keys.map((key) => `${inner}${JSON.stringify(key)}: ${write(value[key]!, inner)}`),
    `${indent}}`,
  )
}

const isList = (value: readonly Json[] | { readonly [key: string]: Json }): value is readonly Json[] =>
  Array.isArray(value)

const block = (open: string, lines: readonly string[], close: string) =>
  lines.length === 0 ? open + close.trimStart() : `${open}\n${lines.join(',\n')}\n${close}`
