import { COLOUR_KEY, COLOUR_KEY_RULE, LONGEST_COLOUR_NAME, MOST_COLOURS } from '../document-shape.ts'
import type { Colour, ColourKey } from '../draft.ts'
import type { TextProblem } from '../entry-line.ts'
import { MOST_PROBLEMS } from '../turning.ts'

/**
 * What a colour line without a hex colour is drawn in, by a word of its name.
 * Source: our own, by eye, for wool dyed a middling shade; no measurement stands behind them.
 */
export const DYE_HEX: Readonly<Record<string, string>> = {
  madder: '#9c3b2e',
  weld: '#c9a227',
  woad: '#3d5f80',
  indigo: '#26385c',
  walnut: '#5b4330',
  undyed: '#e9dfc8',
  white: '#f4efe2',
  black: '#2b2622',
  red: '#a3302a',
  blue: '#33557f',
  green: '#5b7040',
  yellow: '#d4ad36',
  brown: '#6d4f36',
  grey: '#8b847a',
  orange: '#c06a2b',
  purple: '#6a3f5e',
}

export type ReadColourText = {
  readonly problems: readonly TextProblem[]
  /** Every colour that has a key; where its line has a problem the hex is a grey, so that the rest can be read on. */
  readonly colours: Readonly<Record<ColourKey, Colour>>
}

const STAND_IN_HEX = '#8b847a'

/**
 * Reads typed colours, one a line: the key, the name, and `#rrggbb`; `m madder #9c3b2e`. Without a hex colour the name
 * must have one of our dye words in it; without a name the key is the name. Empty lines are passed over, keys are taken
 * in upper case too.
 * @returns the colours and what is wrong, in the order of the text, 50 at most; good when there is no problem
 * @example readColourText('m madder\nw undyed wool #E9DFC8').colours // m #9c3b2e, w #e9dfc8
 * @example readColourText('m crimson').problems // line 1, column 10: a colour needs # and six of 0-9 and a-f …
 * Source: our own text form.
 */
export function readColourText(text: string): ReadColourText {
  const colours: Record<ColourKey, Colour> = {}
  const problems: TextProblem[] = []
  text.split('\n').forEach((raw, at) => {
    if (raw.trim() === '' || problems.length >= MOST_PROBLEMS) return
    const complain = (column: number, message: string): void => {
      problems.push({ line: at + 1, column, message })
    }
    const [, indent = '', word = '', rest = ''] = /^(\s*)(\S+)(.*)$/.exec(raw) ?? []
    const key = word.toLowerCase()
    if (!COLOUR_KEY.test(key)) return complain(indent.length + 1, `“${word.slice(0, 12)}”: ${COLOUR_KEY_RULE}`)
    if (Object.hasOwn(colours, key)) return complain(indent.length + 1, `The key “${key}” is taken by a line above.`)
    if (Object.keys(colours).length >= MOST_COLOURS) return complain(1, `At most ${MOST_COLOURS} colours are read.`)
    colours[key] = readNameAndHex(key, rest, indent.length + word.length + 1, complain)
  })
  if (Object.keys(colours).length === 0 && problems.length === 0) {
    problems.push({ line: 1, column: 1, message: 'No colour found; a line is a key, a name and # with six digits.' })
  }
  return { colours, problems }
}

function readNameAndHex(
  key: string,
  rest: string,
  column: number,
  complain: (column: number, message: string) => void,
): Colour {
  const hexAt = rest.lastIndexOf('#')
  const name = (hexAt < 0 ? rest : rest.slice(0, hexAt)).trim() || key
  if (name.length > LONGEST_COLOUR_NAME) {
    complain(column + 1, `A colour name has at most ${LONGEST_COLOUR_NAME} characters; this one has ${name.length}.`)
  }
  const hex = hexAt < 0 ? dyeHex(name) : rest.slice(hexAt).trim().toLowerCase()
  if (hex !== undefined && /^#[0-9a-f]{6}$/.test(hex)) return { name: name.slice(0, LONGEST_COLOUR_NAME), hex }
  const end = column + rest.trimEnd().length
  complain(
    hexAt < 0 ? end : column + hexAt,
    hexAt < 0
      ? `“${name.slice(0, 24)}” is none of our dye words, so the colour itself is needed: # and six of 0-9 and a-f.`
      : 'A colour is # and six of 0-9 and a-f, as in #9c3b2e.',
  )
  return { name: name.slice(0, LONGEST_COLOUR_NAME), hex: STAND_IN_HEX }
}

function dyeHex(name: string): string | undefined {
  const words = name.toLowerCase().split(/[^a-z]+/)
  const word = words.findLast((one) => Object.hasOwn(DYE_HEX, one))
  return word === undefined ? undefined : DYE_HEX[word]
}

/**
 * Writes colours as text that `readColourText` takes back.
 * @example writeColourText({ m: { name: 'madder', hex: '#9c3b2e' } }) // 'm madder #9c3b2e'
 */
export function writeColourText(colours: Readonly<Record<ColourKey, Colour>>): string {
  return Object.entries(colours)
    .map(([key, { name, hex }]) => [key, name.replace(/\s+/g, ' ').trim(), hex].filter(Boolean).join(' '))
    .join('\n')
}
