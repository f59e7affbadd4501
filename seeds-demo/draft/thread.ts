import type { Colour, ColourKey, Hole, Tablet } from '../../shared/draft/draft.ts'

type Holes = Tablet['holes']
type Palette = Readonly<Record<'madder' | 'weld' | 'woad' | 'walnut' | 'undyed', Colour>>

/** What the makers' dye pots gave; a draft takes from here the colours that it weaves. */
export const palette: Palette = {
  madder: { name: 'madder red', hex: '#9c3b2e' },
  weld: { name: 'weld yellow', hex: '#d3aa3a' },
  woad: { name: 'woad blue', hex: '#33506f' },
  walnut: { name: 'walnut brown', hex: '#4a3425' },
  undyed: { name: 'undyed wool', hex: '#e9dfc8' },
}

/** Border tablets of one colour each, from left to right, threaded S and Z in turn so that they lie in chevrons. */
export function border(colours: readonly ColourKey[]): Tablet[] {
  return colours.map((key, place) => ({
    threading: place % 2 === 0 ? 'S' : 'Z',
    holes: [key, key, key, key],
    start: 'A',
    part: 'border',
  }))
}

/**
 * Pattern tablets that all hold the same four threads.
 * @param holes colour keys in holes A, B, C, D
 * @param threading one letter S or Z a tablet, from left to right
 * @param starts one letter A to D a tablet, from left to right, as many as `threading`
 */
export function pattern(holes: Holes, threading: string, starts: string): Tablet[] {
  if (threading.length !== starts.length)
    throw new RangeError(`starts: ${starts.length} for ${threading.length} tablets`)
  return Array.from(threading, (letter, place) => ({
    threading: toThreading(letter),
    holes,
    start: toHole(starts.charAt(place)),
    part: 'pattern',
  }))
}

function toThreading(letter: string): 'S' | 'Z' {
  if (letter === 'S' || letter === 'Z') return letter
  throw new RangeError(`threading: ${letter}`)
}

function toHole(letter: string): Hole {
  if (letter === 'A' || letter === 'B' || letter === 'C' || letter === 'D') return letter
  throw new RangeError(`starts: ${letter}`)
}
