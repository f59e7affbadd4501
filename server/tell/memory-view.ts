import type { Draft } from '../../shared/draft/draft.ts'
import { sayCount } from '../../shared/draft/number-words.ts'
import { listMemory } from '../../shared/draft/tell/memory-form.ts'
import { findMemoryVoices, type MemoryVoice, sayVoices } from '../../shared/draft/tell/memory-voice.ts'
import type { Turning } from '../../shared/draft/woven.ts'

/** A form of more words than this is folded away: nobody learns it by heart. Our own. */
const MOST_SHOWN_WORDS = 500
/** More words than this are not put in a page at all. */
const MOST_WORDS = 30_000

export interface MemoryView {
  /** How long it is, and against what. */
  readonly lead: string
  readonly voices: readonly {
    readonly heading: string
    readonly each: string
    readonly sections: readonly { readonly heading: string; readonly lines: readonly string[] }[]
  }[]
  readonly spoken: string
  readonly isLong: boolean
}

export function memoryView(draft: Draft, turning: Turning): MemoryView {
  const told = findMemoryVoices(draft, turning)
  const { words, plainWords } = told
  const isLong = words > MOST_SHOWN_WORDS
  const percent = Math.round((100 * words) / plainWords)
  const against = `${plainWords} when every pick is told from the left`
  const much = isLong
    ? `${words} words against ${against}: this repeat has too little that comes again to be learnt by heart.`
    : `${words} words against ${against}, ${percent} % of them.`
  const isSearched = told.voices.every(({ form }) => form.searched)
  const search = isSearched ? '' : ' The repeat is so long that no blocks were looked for in it.'
  if (words > MOST_WORDS) return { lead: `${much} They are not set out here.`, voices: [], spoken: '', isLong: false }
  return { lead: much + search, voices: told.voices.map(toVoice), spoken: sayVoices(told), isLong }
}

function toVoice({ part, tablets, form }: MemoryVoice): MemoryView['voices'][number] {
  const name = part === 'border' ? 'The border tablets' : 'The pattern tablets'
  const each = form.each === 2 ? 'twice' : `${form.each} times`
  return {
    heading: part === 'all' ? '' : `${name}, ${sayCount(tablets.length, 'tablet')} counted by themselves`,
    each: form.each === 1 ? '' : `Each pick ${each}.`,
    sections: listMemory(form).map(({ heading, picks, lines }) => ({
      heading: `${heading} (${sayCount(picks, 'pick')})`,
      lines,
    })),
  }
}
