import type { Draft } from '../draft.ts'
import type { Turning } from '../woven.ts'
import { countWords, type MemoryForm, sayMemory } from './memory-form.ts'
import { findMemoryForm } from './memory-find.ts'
import { readMemory, type ReadMemory } from './memory-read.ts'

/** Some tablets of a band and their form to be remembered. */
export interface MemoryVoice {
  readonly part: 'all' | 'border' | 'pattern'
  /** Numbered from 1. */
  readonly tablets: readonly number[]
  readonly form: MemoryForm
}

export interface MemoryVoices {
  /** One voice for all tablets, or one for the border tablets and one for the pattern tablets. */
  readonly voices: readonly MemoryVoice[]
  /** Words of all that is said. */
  readonly words: number
  /** Words when every pick of all tablets is told from the left. */
  readonly plainWords: number
}

/**
 * The shortest spoken form of a draft: all tablets together, or border and pattern tablets each by themselves, whichever
 * takes fewer words. Borders often have a rhythm of their own, and then neither is short while they are told as one.
 * @throws RangeError when there are no picks, or the turning is for another number of tablets
 * @example borders that go 4 forward, 4 back beside a pattern of 24 picks: two voices
 * Source: our own; see `findMemoryForm`.
 */
export function findMemoryVoices(draft: Draft, turning: Turning): MemoryVoices {
  if (draft.tablets.length !== turning.tablets) {
    throw new RangeError(`turning.tablets must be the draft's ${draft.tablets.length}, got ${turning.tablets}`)
  }
  const form = findMemoryForm(turning)
  const whole: MemoryVoice = { part: 'all', tablets: draft.tablets.map((_, at) => at + 1), form }
  const one = { voices: [whole], words: form.words, plainWords: form.plainWords }
  const border = tabletsOf(draft, 'border')
  const pattern = tabletsOf(draft, 'pattern')
  if (border.length === 0 || pattern.length === 0) return one
  const borderForm = findMemoryForm(takeTablets(turning, border))
  const patternForm = findMemoryForm(takeTablets(turning, pattern), borderForm.blocks.length)
  const two = [
    { part: 'border', tablets: border, form: borderForm } as const,
    { part: 'pattern', tablets: pattern, form: patternForm } as const,
  ]
  const words = two.reduce((sum, voice) => sum + voice.form.words + countWords(HEADINGS[voice.part]), 0)
  return words < one.words ? { voices: two, words, plainWords: one.plainWords } : one
}

const HEADINGS = { all: '', border: 'For the border tablets:', pattern: 'For the pattern tablets:' } as const

/**
 * What is said of a draft, from the first word to the last.
 * @example 'For the border tablets: The whole repeat is: four picks all forward, then … For the pattern tablets: …'
 */
export function sayVoices({ voices }: MemoryVoices): string {
  return voices.map(({ part, form }) => `${HEADINGS[part]} ${sayMemory(form)}`.trim()).join(' ')
}

/**
 * Reads what was said of a draft back into its turning.
 * @param draft says how many tablets there are, and which are border
 * @returns the turning, or what is wrong; `word` is counted within its voice
 * @example readVoices(sayVoices(findMemoryVoices(draft, turning)), draft) // { ok: true, turning }
 */
export function readVoices(text: string, draft: Draft): ReadMemory {
  const said = /^\s*for the border tablets:?(.*)for the pattern tablets:?(.*)$/is.exec(text)
  if (said === null) return readMemory(text, draft.tablets.length)
  const [border, pattern] = [tabletsOf(draft, 'border'), tabletsOf(draft, 'pattern')]
  const left = readMemory(said[1]!, border.length)
  if (!left.ok) return left
  const right = readMemory(said[2]!, pattern.length)
  if (!right.ok) return right
  const { picks } = left.turning
  if (picks !== right.turning.picks) {
    return { ok: false, word: 1, message: `The borders have ${picks} picks, the pattern ${right.turning.picks}.` }
  }
  const tablets = draft.tablets.length
  const turns = new Int8Array(picks * tablets)
  for (const [numbers, { turning }] of [
    [border, left],
    [pattern, right],
  ] as const) {
    for (let pick = 0; pick < picks; pick++) {
      numbers.forEach((number, at) => (turns[pick * tablets + number - 1] = turning.turns[pick * numbers.length + at]!))
    }
  }
  return { ok: true, turning: { tablets, picks, turns } }
}

function tabletsOf(draft: Draft, part: 'border' | 'pattern'): number[] {
  return draft.tablets.flatMap((tablet, at) => (tablet.part === part ? [at + 1] : []))
}

/**
 * The turning of some tablets alone, in their order.
 * @param numbers of tablets, from 1
 * @example takeTablets(turning, [1, 4]).tablets // 2
 */
export function takeTablets({ tablets, picks, turns }: Turning, numbers: readonly number[]): Turning {
  const taken = new Int8Array(picks * numbers.length)
  for (let pick = 0, cell = 0; pick < picks; pick++) {
    for (const number of numbers) taken[cell++] = turns[pick * tablets + number - 1]!
  }
  return { tablets: numbers.length, picks, turns: taken }
}
