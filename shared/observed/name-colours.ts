import { deltaE2000, type Lab, labOfHex } from '../colour/lab.ts'
import type { Colour, ColourKey } from '../draft/draft.ts'

export interface NamedColour {
  /** Null for what is no thread: a hole, a stain. */
  readonly key: ColourKey | null
  readonly name: string
}

/** Farther than this from every colour of the draft, a colour found is taken for none of them. */
const FARTHEST = 22

/** What a colour is called that no draft names; our own, by eye. */
const WORDS: readonly (readonly [string, string])[] = [
  ['white', '#ece4d2'],
  ['black', '#2b2622'],
  ['grey', '#8b847a'],
  ['red', '#9c3b2e'],
  ['orange', '#c06a2b'],
  ['yellow', '#cfa62e'],
  ['green', '#5b7040'],
  ['blue', '#33557f'],
  ['purple', '#6a3f5e'],
  ['brown', '#6d4f36'],
]
const DULL = new Set(['black', 'grey', 'brown'])

/**
 * Gives colours found in a photograph their keys: first those of the draft, each to the colour found that is nearest to
 * it, then plain words. A proposal that people put right.
 * @param found CIELAB of each colour found
 * @param known colours that have keys already, such as those of a draft
 * @returns one for each colour found, no key twice
 * @example nameColours([labOfHex('#98402f')], { m: { name: 'madder', hex: '#9c3b2e' } }) // [{ key: 'm', name: 'madder' }]
 * Source: our own; distances are CIEDE2000.
 */
export function nameColours(found: readonly Lab[], known: Readonly<Record<ColourKey, Colour>>): NamedColour[] {
  const named = new Array<NamedColour | undefined>(found.length).fill(undefined)
  const taken = new Set<ColourKey>()
  const pairs = Object.entries(known).flatMap(([key, { name, hex }]) =>
    found.map((lab, at) => ({ key, name, at, far: deltaE2000(lab, labOfHex(hex)) })),
  )
  for (const { key, name, at, far } of pairs.sort((a, b) => a.far - b.far)) {
    if (named[at] !== undefined || taken.has(key) || far > FARTHEST) continue
    named[at] = { key, name }
    taken.add(key)
  }
  const isDraft = pairs.length > 0
  return found.map((lab, at) => {
    if (named[at] !== undefined) return named[at]
    const name = wordOf(lab)
    // Beside the colours of a draft a further dull one is a hole or a stain rather than a thread.
    if (isDraft && DULL.has(name)) return { key: null, name }
    const key = freeKey(name, taken)
    taken.add(key)
    return { key, name: key.length > 1 && /\d$/.test(key) ? `${name} ${key.slice(1)}` : name }
  })
}

function wordOf(lab: Lab): string {
  const far = WORDS.map(([word, hex]) => ({ word, far: deltaE2000(lab, labOfHex(hex)) }))
  return far.sort((a, b) => a.far - b.far)[0]!.word
}

function freeKey(word: string, taken: ReadonlySet<ColourKey>): ColourKey {
  const letter = [...word].find((one) => !taken.has(one))
  if (letter !== undefined) return letter
  let number = 2
  while (taken.has(`${word[0]}${number}`)) number++
  return `${word[0]}${number}`
}
