import { sayNumber } from './spoken-number.ts'
import { sayPick } from './spoken-pick.ts'

/** How a block, or the pick just woven, is taken. All three may come together. */
export interface Taken {
  /** Left for right. */
  readonly mirrored: boolean
  /** Every turn the other way. */
  readonly otherWay: boolean
  /** From its last pick to its first. */
  readonly fromEnd: boolean
}

/** One step of a form to be remembered. */
export type MemoryItem =
  | { readonly kind: 'pick'; readonly times: number; readonly row: readonly number[] }
  | { readonly kind: 'same'; readonly times: number; readonly taken: Taken }
  | { readonly kind: 'block'; readonly times: number; readonly name: string; readonly taken: Taken }

export interface MemoryBlock {
  readonly name: string
  /** How many picks it is long when it is woven. */
  readonly picks: number
  readonly items: readonly MemoryItem[]
}

/** A whole repeat in as few words as the program finds. */
export interface MemoryForm {
  readonly tablets: number
  readonly picks: number
  /** Every pick that is told is woven so many times. */
  readonly each: number
  /** In the order in which they must be told: each uses only those before it. */
  readonly blocks: readonly MemoryBlock[]
  readonly whole: readonly MemoryItem[]
  /** Words of `sayMemory`. A hyphenated number is one word. */
  readonly words: number
  /** Words when every pick is told from the left, one after the other. */
  readonly plainWords: number
  /** False when the repeat is so long that no blocks were looked for, only picks that come several times running. */
  readonly searched: boolean
}

/**
 * Names of blocks, in the order in which they are given: words that sound unlike each other and mean nothing else here.
 */
export const BLOCK_NAMES = (
  'wave step ladder bridge gate river hill stone reed path field well barn mill brook fence lamp boat nest leaf bell cliff ' +
  'harbour meadow pebble orchard'
).split(' ')

/**
 * The form as it is said aloud: names first, each with what it is, then the whole. Stops and commas are for the breath;
 * the words alone are enough to read it back (`readMemory`).
 * @example 'The wave is four forward, two back, then all back. The whole repeat is the wave, then the wave mirrored.'
 */
export function sayMemory(form: MemoryForm): string {
  const said = (items: readonly MemoryItem[]) => items.map((item) => sayItem(item)).join(', then ')
  const blocks = form.blocks.map(({ name, items }) => `The ${name} is: ${said(items)}.`)
  return [...sayEach(form.each), ...blocks, `The whole repeat is: ${said(form.whole)}.`].join(' ')
}

function sayEach(each: number): string[] {
  if (each === 1) return []
  return [`Each pick ${each === 2 ? 'twice' : `${sayNumber(each)} times`}.`]
}

/** A list for the eye: what is told, and its steps, one a line. */
export interface MemorySection {
  /** `The wave`, `The whole repeat`. */
  readonly heading: string
  readonly picks: number
  readonly lines: readonly string[]
}

/**
 * The form as nested lists, numbers in figures. That each pick is woven several times (`each`) is for the page to say.
 * @example listMemory(form)[0] // { heading: 'The wave', picks: 2, lines: ['4 forward, 2 back', 'all back'] }
 */
export function listMemory(form: MemoryForm): MemorySection[] {
  const lines = (items: readonly MemoryItem[]) => items.map((item) => sayItem(item, true))
  return [
    ...form.blocks.map(({ name, picks, items }) => ({ heading: `The ${name}`, picks, lines: lines(items) })),
    { heading: 'The whole repeat', picks: form.picks, lines: lines(form.whole) },
  ]
}

/**
 * One step as it is said or written.
 * @param figures numbers in figures, for the eye; in words unless told
 * @example sayItem({ kind: 'block', times: 2, name: 'wave', taken: { mirrored: true, … } }) // 'twice the wave mirrored'
 */
export function sayItem(item: MemoryItem, figures = false): string {
  const number = (value: number) => (figures ? String(value) : sayNumber(value))
  const picks = item.times === 1 ? '' : `${number(item.times)} picks `
  if (item.kind === 'pick') return picks + sayPick(item.row, figures)
  if (item.kind === 'same') return `${picks}the same${sayTaken(item.taken)}`
  const times = item.times === 1 ? '' : item.times === 2 ? 'twice ' : `${number(item.times)} times `
  return `${times}the ${item.name}${sayTaken(item.taken)}`
}

function sayTaken({ mirrored, otherWay, fromEnd }: Taken): string {
  return (mirrored ? ' mirrored' : '') + (otherWay ? ' the other way' : '') + (fromEnd ? ' from its end' : '')
}

/** How many words a text has: whatever stands between blanks. */
export function countWords(text: string): number {
  return text.split(/\s+/).filter((word) => word !== '').length
}
