import { listMemory } from '../draft/tell/memory-form.ts'
import { findMemoryVoices, type MemoryVoice } from '../draft/tell/memory-voice.ts'
import { sayPick } from '../draft/tell/spoken-pick.ts'
import type { Turning } from '../draft/woven.ts'
import { toReader } from './told-pick.ts'
import { rowAt } from './weaving.ts'
import type { Loom } from './view.ts'

/** The form to be remembered of a draft, as far as it helps to say one pick after the other. */
export interface Remembered {
  readonly voices: readonly {
    readonly part: MemoryVoice['part']
    /** In the reader's numbers, from 1. */
    readonly tablets: readonly number[]
    /** Pick of the repeat (from 0) → what begins there: `the wave mirrored`. */
    readonly begins: ReadonlyMap<number, string>
  }[]
}

/** Longer repeats are said without the names of their blocks: finding these would keep the hand waiting. Our own bound. */
const MOST_PICKS = 1_000

/** The form in the reader's own counting. */
export function rememberedOf({ weaving, facts }: Loom): Remembered {
  const { turning, draft } = weaving
  const turns = new Int8Array(turning.turns.length)
  for (let pick = 0; pick < turning.picks; pick++) {
    const from = pick * turning.tablets
    turns.set(toReader(turning.turns.slice(from, from + turning.tablets), facts.telling), from)
  }
  const told: Turning = { ...turning, turns }
  const tablets = facts.telling.reversesTablets ? draft.tablets.toReversed() : draft.tablets
  if (turning.picks > MOST_PICKS)
    return { voices: [{ part: 'all', tablets: tablets.map((_, at) => at + 1), begins: new Map() }] }
  const { voices } = findMemoryVoices({ ...draft, tablets }, told)
  return { voices: voices.map((voice) => ({ part: voice.part, tablets: voice.tablets, begins: beginsOf(voice) })) }
}

/** Where each block of the whole repeat begins; nothing where its steps do not make the whole. */
function beginsOf({ form }: MemoryVoice): ReadonlyMap<number, string> {
  const lines = listMemory(form).at(-1)?.lines ?? []
  const begins = new Map<number, string>()
  let pick = 0
  for (const [at, item] of form.whole.entries()) {
    if (item.kind === 'block') begins.set(pick, lines[at] ?? '')
    const block = item.kind === 'block' ? form.blocks.find(({ name }) => name === item.name) : undefined
    pick += item.times * (block?.picks ?? form.each)
  }
  return pick === form.picks ? begins : new Map()
}

const HEADINGS = { all: '', border: 'Borders: ', pattern: 'Pattern: ' } as const

/**
 * The next pick as it is said: the block that begins with it, then the pick in the fewest words.
 * @param place picks woven before it
 * @example 'The wave mirrored. From both edges two forward, middle three back.'
 */
export function sayRemembered({ voices }: Remembered, { weaving, facts }: Loom, place: number): string {
  const row = toReader(rowAt(weaving, place), facts.telling)
  const pick = place % weaving.turning.picks
  return voices
    .map(({ part, tablets, begins }) => {
      const block = begins.get(pick)
      const said = sayPick(Int8Array.from(tablets, (tablet) => row[tablet - 1]!))
      return [block === undefined ? '' : `${HEADINGS[part]}${block}.`, `${HEADINGS[part]}${said}.`]
        .filter(Boolean)
        .join(' ')
    })
    .map((text) => text.charAt(0).toUpperCase() + text.slice(1))
    .join(' ')
}
