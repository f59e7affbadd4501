import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { findMemoryForm } from '../../shared/draft/tell/memory-find.ts'
import { BLOCK_NAMES, countWords, listMemory, sayMemory } from '../../shared/draft/tell/memory-form.ts'
import { readMemory } from '../../shared/draft/tell/memory-read.ts'
import { findMemoryVoices, readVoices, sayVoices } from '../../shared/draft/tell/memory-voice.ts'
import { countNumberWords, readNumber, sayNumber } from '../../shared/draft/tell/spoken-number.ts'
import { countPlainWords, sayPick, wordPick } from '../../shared/draft/tell/spoken-pick.ts'
import { readTurning, writeTurning } from '../../shared/draft/turning.ts'
import type { Turning } from '../../shared/draft/woven.ts'
import { arbitraryDraft, draftOf, makeTablet } from '../draft/arbitrary-draft.ts'

const turningFrom = (rows: readonly (readonly number[])[]): Turning => {
  return { tablets: rows[0]!.length, picks: rows.length, turns: Int8Array.from(rows.flat()) }
}
const read = (lines: string[], tablets: number) => {
  const result = readTurning(lines, tablets)
  if (!result.ok) throw new Error(result.problems[0]!.message)
  return result.turning
}

/** Millions of turns are held against each other as bytes: a matcher would look at them one by one for minutes. */
function expectReads(text: string, { tablets, picks, turns }: Turning): void {
  const back = readMemory(text, tablets)
  if (!back.ok) throw new Error(`word ${back.word}: ${back.message}`)
  expect([back.turning.tablets, back.turning.picks]).toEqual([tablets, picks])
  expect(Buffer.from(back.turning.turns).equals(Buffer.from(turns))).toBe(true)
}

/** Said, counted, and read back: by its words alone, and with every number in figures. */
function expectExact(turning: Turning): number {
  const form = findMemoryForm(turning)
  const said = sayMemory(form)
  expect(countWords(said)).toBe(form.words)
  expect(form.words).toBeLessThanOrEqual(form.plainWords)
  expectReads(said, turning)
  const wordsAlone = said.replace(/[.,:]/g, '').toUpperCase()
  expectReads(wordsAlone, turning)
  const figures = listMemory(form).map(({ heading, lines }) => `${heading} is ${lines.join(' then ')}`)
  const each = form.each === 1 ? '' : `each pick ${form.each} times `
  expectReads(each + figures.join(' '), turning)
  return form.words
}

describe('sayNumber(value) and readNumber(words, at)', () => {
  test('say and read every number that a draft can hold', () => {
    expect([1, 20, 21, 100, 320, 1000, 20_000, 12_345].map(sayNumber)).toEqual([
      ...['one', 'twenty', 'twenty-one', 'one hundred', 'three hundred twenty', 'one thousand', 'twenty thousand'],
      'twelve thousand three hundred forty-five',
    ])
    for (let value = 1; value <= 20_000; value += value < 1100 ? 1 : 37) {
      const words = sayNumber(value).split(' ')
      expect(readNumber([...words, 'forward'], 0)).toEqual({ value, next: words.length })
      expect(countNumberWords(value)).toBe(words.length)
    }
    expect(readNumber(['40', 'back'], 0)).toEqual({ value: 40, next: 1 })
    expect(readNumber(['back'], 0)).toBeUndefined()
    expect(() => sayNumber(0)).toThrow(RangeError)
    expect(() => sayNumber(1_000_000)).toThrow(RangeError)
  })
})

describe('wordPick(row) and sayPick(row)', () => {
  test.each([
    ['6F', 'all forward'],
    ['2F 4B', 'two forward, four back'],
    ['2F 2B 2F 2B 2F 2B', 'three times two forward and two back'],
    [
      '4F 2B 2F 2B 2F 8B 2F 2B 2F 2B 4F',
      'from both edges four forward, twice two back and two forward, middle eight back',
    ],
    ['1F 1I 4(2B)', 'one forward, one idle, four half back'],
    ['1F 1B 1F', 'one forward, one back, one forward'],
    ['300F 21B', 'three hundred forward, twenty-one back'],
  ])('%s is said as “%s”', (line, said) => {
    const tablets = [...line.matchAll(/(\d+)\(?\d?[FBI]/g)].reduce((sum, [, count]) => sum + Number(count), 0)
    const row = read([line], tablets).turns
    expect(sayPick(row)).toBe(said)
    expect(wordPick(row).words).toBe(countWords(said))
    expect(wordPick(row).words).toBeLessThanOrEqual(countPlainWords(row))
  })

  test('refuse a pick of no tablets and a turn that is none', () => {
    expect(() => wordPick([])).toThrow(RangeError)
    expect(() => wordPick([1, 3])).toThrow(RangeError)
  })
})

describe('findMemoryForm(turning)', () => {
  test('of any random draft reads back exactly, in no more words than telling its picks', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ turning }) => void expectExact(turning)),
      { numRuns: 150 },
    )
  })

  test('of a draft made of a block and its transforms reads back exactly and is far shorter than its picks', () => {
    const row = fc.array(fc.constantFrom(1, -1), { minLength: 12, maxLength: 12 })
    const block = fc.array(row, { minLength: 4, maxLength: 7 })
    const way = fc.tuple(fc.boolean(), fc.boolean(), fc.boolean())
    fc.assert(
      fc.property(
        block,
        fc.array(way, { minLength: 3, maxLength: 6 }),
        fc.integer({ min: 1, max: 3 }),
        (rows, ways, each) => {
          const picks = ways.flatMap(([mirrored, otherWay, fromEnd]) => {
            let taken: number[][] = mirrored ? rows.map((one) => one.toReversed()) : rows
            if (otherWay) taken = taken.map((one) => one.map((turn) => -turn))
            return fromEnd ? taken.toReversed() : taken
          })
          const turning = turningFrom(picks.flatMap((one) => Array.from({ length: each }, () => one)))
          const words = expectExact(turning)
          // As a person would tell it: the block once, then its uses; “mirrored the other way from its end” is seven words.
          const once = rows.reduce((sum, one) => sum + countPlainWords(one) + 1, 0) + 3 - 1
          const uses = ways.reduce((sum, [m, o, e]) => sum + 3 + (m ? 1 : 0) + (o ? 3 : 0) + (e ? 3 : 0), 0) + 4 - 1
          expect(words).toBeLessThanOrEqual(once + uses + (each === 1 ? 0 : each === 2 ? 3 : 4) + 2 * rows.length)
        },
      ),
      { numRuns: 60 },
    )
  })

  test('finds names, mirrors, opposites and repeats, as a person would tell them', () => {
    const wave = ['3F 1B 4F 2B', '5F 2B 3F', '1B 2F 7B']
    const mirrored = wave.map((line) => line.split(' ').reverse().join(' '))
    const form = (lines: string[]) => sayMemory(findMemoryForm(read(lines, 10)))
    expect(form([...wave, ...mirrored])).toBe(
      'The wave is: three forward, one back, four forward, two back, then five forward, two back, three forward, ' +
        'then one back, two forward, seven back. The whole repeat is: the wave, then the wave mirrored.',
    )
    expect(form(['10F', '10F', '10B', '10B', '10B'])).toBe(
      'The whole repeat is: two picks all forward, then three picks all back.',
    )
    expect(form(['4F 6B', '4B 6F'])).toBe('The whole repeat is: four forward, six back, then four back, six forward.')
    expect(form(['4F 1B 2F 3B', '4B 1F 2B 3F'])).toBe(
      'The whole repeat is: four forward, one back, two forward, three back, then the same the other way.',
    )
    expect(form(Array.from({ length: 12 }, () => wave).flat())).toMatch(/The whole repeat is: twelve times the wave\.$/)
    expect(form(['4F 6B', '4F 6B', '2F 8B', '2F 8B', '1F 9B', '1F 9B', '7F 3B', '7F 3B'])).toMatch(
      /^Each pick twice\. /,
    )
    expect(form(Array.from({ length: 9 }, () => '10F'))).toBe('The whole repeat is: nine picks all forward.')
  })

  test('of 400 tablets and 20,000 picks, most of them alike, reads back exactly', () => {
    const tablets = 400
    const turns = new Int8Array(tablets * 20_000).fill(1)
    for (let pick = 0; pick < 20_000; pick += 2) turns.fill(-1, pick * tablets, pick * tablets + (pick % 50) * 8)
    expectExact({ tablets, picks: 20_000, turns })
  })

  test('of more different picks than it searches says so, and still reads back exactly', () => {
    const rows = Array.from({ length: 4200 }, (_, pick) =>
      Array.from({ length: 13 }, (_, bit) => ((pick >> bit) & 1 ? 1 : -1)),
    )
    const turning = turningFrom(rows)
    expect(findMemoryForm(turning)).toMatchObject({ searched: false, blocks: [] })
    expectExact(turning)
  })

  test('refuses a turning without picks', () => {
    expect(() => findMemoryForm({ tablets: 3, picks: 0, turns: new Int8Array() })).toThrow(RangeError)
  })
})

describe('readMemory(text, tablets)', () => {
  test.each([
    ['', '“the” was expected; the words end here.', 1],
    ['The whole repeat is: two forward.', 'This pick turns 2 tablets; there are 4.', 5],
    ['The whole repeat is: the wave.', '“wave” was not told before.', 6],
    ['The whole repeat is: the same.', '“The same” has no pick before it.', 5],
    ['The wave is: all forward. The wave is: all back. The whole repeat is: the wave.', '“wave” is told twice.', 7],
    [
      'The whole repeat is: all sideways.',
      'Forward, back, idle, half forward or half back was expected, not “sideways”.',
      6,
    ],
    ['The whole repeat is: all forward, then.', 'A pick was expected; the words end here.', 8],
    ['The whole repeat is: all forward the end.', 'Nothing was expected after the whole repeat, not “the”.', 7],
    ['The whole repeat is: nine forward.', 'There are only 4 tablets, not “nine”.', 5],
    ['The whole repeat is: thirty thousand picks all forward.', 'More than 20000 picks.', 5],
    ['The fox is: all forward.', 'The name of a block was expected, not “fox”.', 2],
  ])('of “%s” says “%s”', (text, message, word) => {
    expect(readMemory(text, 4)).toEqual({ ok: false, word, message })
  })

  test('of blocks that blow up by names in names stops before they fill the memory', () => {
    const names = BLOCK_NAMES.slice(1).map((name, at) => `the ${name} is 900000 times the ${BLOCK_NAMES[at]!}`)
    const text = `the wave is all forward ${names.join(' ')} the whole repeat is the ladder`
    expect(readMemory(text, 4)).toMatchObject({ ok: false, message: 'More than 20000 picks.' })
  })
})

describe('findMemoryVoices(draft, turning)', () => {
  test('tells borders with a rhythm of their own by themselves, and readVoices puts both together again', () => {
    const border = makeTablet({ part: 'border' })
    const tablets = [border, makeTablet(), makeTablet(), makeTablet(), makeTablet(), border]
    const picks = Array.from({ length: 24 }, (_, pick) => {
      const edge = pick % 8 < 4 ? '1F' : '1B'
      return `${edge} ${['1F 3B', '2F 2B', '3F 1B'][Math.floor((pick % 6) / 2)]!} ${edge}`
    })
    const turning = read(picks, 6)
    const { draft } = draftOf(
      tablets,
      Array.from(picks, (_, pick) => [...turning.turns.subarray(pick * 6, pick * 6 + 6)]),
    )
    const voices = findMemoryVoices(draft, turning)
    expect(voices.voices.map(({ part }) => part)).toEqual(['border', 'pattern'])
    const said = sayVoices(voices)
    expect(said).toMatch(
      /^For the border tablets: The wave is: four picks all forward, then four picks all back\. The whole/,
    )
    expect(countWords(said)).toBe(voices.words)
    expect(voices.words).toBeLessThan(findMemoryForm(turning).words)
    const back = readVoices(said, draft)
    expect(back.ok && writeTurning(back.turning)).toEqual(writeTurning(turning))
    const names = voices.voices.flatMap(({ form }) => form.blocks.map(({ name }) => name))
    expect(new Set(names).size).toBe(names.length)
  })

  test('of any random draft reads back exactly', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft, turning }) => {
        const voices = findMemoryVoices(draft, turning)
        expect(readVoices(sayVoices(voices), draft)).toEqual({ ok: true, turning })
        expect(countWords(sayVoices(voices))).toBe(voices.words)
      }),
      { numRuns: 60 },
    )
  })
})
