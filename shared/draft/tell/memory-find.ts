import type { Turning } from '../woven.ts'
import { BLOCK_NAMES, type MemoryForm } from './memory-form.ts'
import { listStretches } from './memory-stretch.ts'
import { nameStretch, type NamedStretch, spell, type Spelling, toItems } from './memory-spell.ts'
import { type PickAlphabet, toAlphabet } from './pick-alphabet.ts'
import { periodOf } from './ring.ts'
import { countNumberWords } from './spoken-number.ts'

/**
 * Longest repeat (its true period) in which blocks are looked for, in picks. In a longer one only picks that come several
 * times running are put together. Our own, by measuring.
 */
export const MOST_SEARCHED_PICKS = 4000

/** Words of “the wave is” and of “the whole repeat is”. */
const WORDS_OF_HEADING = 3
const WORDS_OF_WHOLE = 4
/** How many stretches are really tried each time: fewer for longer repeats. */
const MOST_TRIED = 32
const STEPS_TRIED = 400_000

/**
 * Looks for the shortest spoken form of a whole repeat. It counts words, all of them, names and “then” included.
 *
 * What it does: picks become symbols. Of all stretches of picks that come again (as they are, mirrored, turned the other
 * way, from their end, or any of these together) it tries those that promise to save the most words, gives a name to the
 * one that really saves the most, and begins again until no name saves a word. With given names the fewest words are
 * exact, by dynamic programming. Which stretches get a name is found by this greedy search: a shorter form may exist.
 * @param turning at least one pick
 * @param firstName which of `BLOCK_NAMES` is given first, so that two forms that are told together share no name
 * @returns a form that reads back (`readMemory`) into the very same turning
 * @throws RangeError when there are no picks, or a turn is none of 1, -1, 0, 2, -2
 * @example sayMemory(findMemoryForm(turning of 24F 24F 24B 24B)) // 'The whole repeat is: two picks all forward, then …'
 * Source: our own; the idea that the best grammar is the shortest is that of the minimum description length.
 */
export function findMemoryForm(turning: Turning, firstName = 0): MemoryForm {
  const { tablets, picks } = turning
  if (picks === 0) throw new RangeError('turning must hold at least one pick, not none')
  const alphabet = toAlphabet(turning)
  const period = periodOf(alphabet.ring)
  const searched = period <= MOST_SEARCHED_PICKS
  // One pick again and again is shortest as so many picks of it.
  const length = searched && period > 1 ? period : picks
  const ring = alphabet.ring.subarray(0, length)
  const names = BLOCK_NAMES.slice(firstName)
  const told = [1, timesOfEach(ring)].map((each) => {
    const piece = { ...alphabet, ring: ring.filter((_, pick) => pick % each === 0) }
    const start = new Grammar(piece, [])
    // One name is kept for the piece, where the repeat is a piece several times over.
    const grammar = searched && period > 1 ? findNames(piece, start, names.length - 1) : start
    const form = length < picks ? repeatedForm(piece, grammar, names, picks / length) : wholeForm(piece, grammar, names)
    const blocks = form.blocks.map((block) => ({ ...block, picks: block.picks * each }))
    return { each, ...form, blocks, words: form.words + (each === 1 ? 0 : 2 + wordsOfTimes(each)) }
  })
  const form = told[1]!.words < told[0]!.words ? told[1]! : told[0]!
  return { tablets, picks, ...form, plainWords: alphabet.plainWords + picks - 1 + WORDS_OF_WHOLE, searched }
}

/** How often every pick of the ring comes running at least, when that is the same for all or a multiple; else 1. */
function timesOfEach(ring: Int32Array): number {
  let times = 0
  for (let from = 0, to = 0; from < ring.length; from = to) {
    while (to < ring.length && ring[to] === ring[from]) to++
    for (let run = to - from; run > 0;) [times, run] = [run, times % run]
    if (times === 1) break
  }
  return times
}

const wordsOfTimes = (times: number) => (times === 2 ? 1 : countNumberWords(times) + 1)

/** Named stretches, shortest first, so that each can be told with those before it, and all that is spelled with them. */
class Grammar {
  readonly blocks: readonly NamedStretch[]
  readonly spellings: readonly Spelling[]
  readonly whole: Spelling
  readonly words: number

  constructor(alphabet: PickAlphabet, blocks: readonly NamedStretch[]) {
    this.blocks = blocks.toSorted((a, b) => a.to - a.from - (b.to - b.from))
    this.spellings = this.blocks.map(({ from, to }, at) => spell(alphabet, this.blocks.slice(0, at), from, to))
    this.whole = spell(alphabet, this.blocks, 0, alphabet.ring.length, true)
    this.words = this.spellings.reduce((sum, { words }) => sum + words + WORDS_OF_HEADING, 0)
    this.words += this.whole.words + WORDS_OF_WHOLE
  }
}

function findNames(alphabet: PickAlphabet, start: Grammar, most: number): Grammar {
  let best = start
  const tried = Math.max(6, Math.min(MOST_TRIED, Math.floor(STEPS_TRIED / alphabet.ring.length)))
  const stretches = listStretches(alphabet)
  const named = new Map<string, NamedStretch>()
  const nameOnce = (from: number, to: number) => {
    const key = `${from} ${to}`
    if (!named.has(key)) named.set(key, nameStretch(alphabet, from, to))
    return named.get(key)!
  }
  while (best.blocks.length < most) {
    const sections = [
      { from: 0, reach: best.whole.reach },
      ...best.blocks.map(({ from }, at) => ({ from, reach: best.spellings[at]!.reach })),
    ]
    const promising = stretches.mostPromising(sections, tried)
    let next = best
    for (const { from, to } of promising) {
      if (best.blocks.some((block) => block.from === from && block.to === to)) continue
      const grammar = new Grammar(alphabet, [...best.blocks, nameOnce(from, to)])
      if (grammar.words < next.words) next = grammar
    }
    if (next === best) break
    best = withoutIdleNames(alphabet, next)
  }
  return best
}

/** A name that was good once may be idle after longer ones came. */
function withoutIdleNames(alphabet: PickAlphabet, grammar: Grammar): Grammar {
  let best = grammar
  for (const block of grammar.blocks) {
    const less = new Grammar(
      alphabet,
      best.blocks.filter((one) => one !== block),
    )
    if (less.words <= best.words) best = less
  }
  return best
}

function wholeForm(alphabet: PickAlphabet, { blocks, spellings, whole, words }: Grammar, names: readonly string[]) {
  const nameOf = new Map(blocks.map((block, at) => [block, names[at]!]))
  return {
    blocks: blocks.map((block, at) => ({
      name: nameOf.get(block)!,
      picks: block.to - block.from,
      items: toItems(alphabet, spellings[at]!, nameOf),
    })),
    whole: toItems(alphabet, whole, nameOf),
    words,
  }
}

/** For a repeat that is a shorter piece several times over: the piece gets a name. */
function repeatedForm(alphabet: PickAlphabet, grammar: Grammar, names: readonly string[], times: number) {
  const { blocks, whole, words } = wholeForm(alphabet, grammar, names)
  const name = names[blocks.length]!
  const once = { mirrored: false, otherWay: false, fromEnd: false }
  const piece = { name, picks: alphabet.ring.length, items: whole }
  const again = { kind: 'block' as const, times, name, taken: once }
  const more = WORDS_OF_HEADING + wordsOfTimes(times) + 2
  return { blocks: [...blocks, piece], whole: [again], words: words + more }
}
