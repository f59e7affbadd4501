import type { Source } from '../source/queries.ts'

/**
 * Of the sources that the viewer may see those that an address names (`?source=1&source=2`); all where it names none. What
 * it names and is not among them is passed over: an address does not tell what exists.
 */
export function chosenSources(all: readonly Source[], named: unknown): readonly Source[] {
  const ids = readIds(named)
  return ids === undefined ? all : all.filter(({ id }) => ids.has(id))
}

export function readIds(named: unknown): ReadonlySet<number> | undefined {
  if (named === undefined) return undefined
  const texts = (Array.isArray(named) ? named : [named]) as unknown[]
  return new Set(texts.filter((text) => typeof text === 'string' && /^[1-9]\d{0,14}$/.test(text)).map(Number))
}

/** The same selection for another address: `source=1&source=2`. */
export const sourceQuery = (sources: readonly Pick<Source, 'id'>[]): string =>
  sources.map(({ id }) => `source=${id}`).join('&')
