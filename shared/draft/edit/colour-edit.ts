import type { Colour, ColourKey } from '../draft.ts'
import type { Bench, Colouring } from './bench.ts'
import type { Edit, Refused } from './step.ts'

function recolour(bench: Bench, after: Colouring, label: string): Edit {
  return { label, steps: [{ kind: 'colours', before: { colours: bench.colours, weft: bench.weft }, after }] }
}

/**
 * Other hex colours for some keys: how tried colours are taken over.
 * @param hexes `#rrggbb` by colour key; keys that the draft has not are passed over
 * @returns an edit without steps when nothing changes
 */
export function setHexes(bench: Bench, hexes: Readonly<Record<ColourKey, string>>): Edit {
  const changed = Object.entries(hexes).filter(([key, hex]) => bench.colours[key] && bench.colours[key].hex !== hex)
  const label = `colour of ${changed.map(([key]) => bench.colours[key]!.name || key).join(', ')}`
  if (changed.length === 0) return { label, steps: [] }
  const colours = { ...bench.colours }
  for (const [key, hex] of changed) colours[key] = { ...colours[key]!, hex }
  return recolour(bench, { colours, weft: bench.weft }, label)
}

/** Another name for a colour. */
export function nameColour(bench: Bench, key: ColourKey, name: string): Edit {
  const colour = bench.colours[key]
  const label = `name of colour ${key}`
  if (!colour || colour.name === name) return { label, steps: [] }
  return recolour(bench, { colours: { ...bench.colours, [key]: { ...colour, name } }, weft: bench.weft }, label)
}

/** A further colour, under the first free letter. */
export function addColour(bench: Bench, colour: Colour): Edit | Refused {
  const key = [...'abcdefghijklmnopqrstuvwxyz'].find((letter) => !Object.hasOwn(bench.colours, letter))
  if (key === undefined) return { why: 'All 26 letters are in use; further colours can be added in the form.' }
  const colours = { ...bench.colours, [key]: colour }
  return recolour(bench, { colours, weft: bench.weft }, `new colour ${key}`)
}

/** Takes out a colour that neither a hole nor the weft has. */
export function removeColour(bench: Bench, key: ColourKey): Edit | Refused {
  if (bench.weft === key) return { why: 'The weft has this colour, so it stays.' }
  const users = bench.tablets.filter(({ holes }) => holes.includes(key)).length
  if (users > 0) return { why: `${users === 1 ? '1 tablet has' : `${users} tablets have`} this colour, so it stays.` }
  const colours = Object.fromEntries(Object.entries(bench.colours).filter(([one]) => one !== key))
  return recolour(bench, { colours, weft: bench.weft }, `took out colour ${key}`)
}

/** The weft in another colour of the draft. */
export function setWeft(bench: Bench, weft: ColourKey): Edit {
  const label = 'colour of the weft'
  if (bench.weft === weft) return { label, steps: [] }
  return recolour(bench, { colours: bench.colours, weft }, label)
}
