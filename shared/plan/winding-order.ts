import { sayNumbers } from '../draft/number-words.ts'

/** One colour of the warp, wound in one go. */
export interface WindingStep {
  readonly colour: string
  readonly ends: number
  /** Tablets that take as many ends of it, the most first: `4 each for tablets 1 to 3`. */
  readonly groups: readonly { readonly each: number; readonly tablets: readonly number[] }[]
}

/**
 * The order in which to wind a warp so that each colour is taken up once: the colours in the order in which the tablets
 * first need them, from tablet 1 on.
 * @param holes of every tablet, a colour key or null for an empty hole
 * @returns one step a colour; their ends add up to the threaded holes
 * @example windingOrder([['m','m','m','m'], ['m','m','w','w']]) // m: 6 ends, then w: 2
 */
export function windingOrder(holes: readonly (readonly (string | null)[])[]): WindingStep[] {
  const byColour = new Map<string, Map<number, number[]>>()
  for (const [at, tablet] of holes.entries()) {
    const counts = new Map<string, number>()
    for (const key of tablet) if (key !== null) counts.set(key, (counts.get(key) ?? 0) + 1)
    for (const [key, each] of counts) {
      const groups = byColour.get(key) ?? new Map<number, number[]>()
      byColour.set(key, groups)
      groups.set(each, [...(groups.get(each) ?? []), at + 1])
    }
  }
  return [...byColour].map(([colour, groups]) => ({
    colour,
    ends: [...groups].reduce((sum, [each, tablets]) => sum + each * tablets.length, 0),
    groups: [...groups].map(([each, tablets]) => ({ each, tablets })).sort((left, right) => right.each - left.each),
  }))
}

/**
 * For which tablets a colour is wound.
 * @example sayGroups([{ each: 4, tablets: [1, 2, 3] }, { each: 2, tablets: [9] }]) // '4 each for tablets 1 to 3, 2 for tablet 9'
 */
export function sayGroups(groups: WindingStep['groups']): string {
  return groups
    .map(({ each, tablets }) =>
      tablets.length === 1
        ? `${each} for tablet ${tablets[0]!}`
        : `${each} each for tablets ${sayNumbers(tablets, 20)}`,
    )
    .join('; ')
}
