import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { MOST_PROBLEMS, readTurning, turningOf, writeTurning } from '../../shared/draft/turning.ts'
import { arbitraryDraft, draftOf, makeTablet } from './arbitrary-draft.ts'

function turnsOf(line: string, tablets: number): number[] {
  const read = readTurning([line], tablets)
  if (!read.ok) throw new Error(read.problems.map((problem) => problem.message).join(' '))
  return [...read.turning.turns]
}

function problemsOf(lines: string[], tablets: number) {
  const read = readTurning(lines, tablets)
  return read.ok ? [] : read.problems
}

describe('readTurning(lines, tablets)', () => {
  test.each([
    ['6F', [1, 1, 1, 1, 1, 1]],
    ['2F 2B 2F', [1, 1, -1, -1, 1, 1]],
    ['1F 1I 4(2F)', [1, 0, 2, 2, 2, 2]],
    ['3(2B)3i', [-2, -2, -2, 0, 0, 0]],
    ['3F3B', [1, 1, 1, -1, -1, -1]],
    ['  3f ,3 b\t', [1, 1, 1, -1, -1, -1]],
    ['4( 2 f ), 2F', [2, 2, 2, 2, 1, 1]],
    ['1F 1F 04F', [1, 1, 1, 1, 1, 1]],
    ['3F\u00a03B', [1, 1, 1, -1, -1, -1]],
  ])('takes %j', (line, turns) => {
    expect(turnsOf(line, 6)).toEqual(turns)
  })

  test.each([
    ['5F', 3, 'Pick 1: 5 tablets found, 6 needed.'],
    ['1F', 3, 'Pick 1: 1 tablet found, 6 needed.'],
    ['', 1, 'Pick 1: 0 tablets found, 6 needed.'],
    ['3F 2B 2F', 7, 'Pick 1: 7 tablets found, 6 needed.'],
    ['99999999999F', 1, 'Pick 1: 1000000 or more tablets found, 6 needed.'],
    ['3F 3X', 4, 'Pick 1: “3X” cannot be read; a turn is F, B, I, (2F) or (2B).'],
    ['F 5B', 1, 'Pick 1: “F” needs a number of tablets before it, as in 1F.'],
    ['0F 6B', 1, 'Pick 1: “0F” turns no tablet.'],
    ['5F 1', 4, 'Pick 1: “1” has no turn after it; a turn is F, B, I, (2F) or (2B).'],
    ['6(3F)', 1, 'Pick 1: “6(3F)” cannot be read; a turn is F, B, I, (2F) or (2B).'],
    ['6(2I)', 1, 'Pick 1: “6(2I)” cannot be read; a turn is F, B, I, (2F) or (2B).'],
    ['6(2F', 1, 'Pick 1: “6(2F” cannot be read; a turn is F, B, I, (2F) or (2B).'],
    ['6F;', 3, 'Pick 1: “;” cannot be read; a turn is F, B, I, (2F) or (2B).'],
    ['-6F', 1, 'Pick 1: “-6F” cannot be read; a turn is F, B, I, (2F) or (2B).'],
    ['٦F', 1, 'Pick 1: “٦F” cannot be read; a turn is F, B, I, (2F) or (2B).'],
  ])('refuses %j at character %i', (line, column, message) => {
    expect(problemsOf([line], 6)).toEqual([{ pick: 1, column, message }])
  })

  test('names every problem of every pick, with the pick', () => {
    expect(problemsOf(['2F', '1X 1Q', '3B', '1F'], 2).map(({ pick, column }) => [pick, column])).toEqual([
      [2, 1],
      [2, 4],
      [3, 1],
      [4, 3],
    ])
  })

  test('stops at fifty problems', () => {
    expect(problemsOf(new Array<string>(1000).fill('x'), 2)).toHaveLength(MOST_PROBLEMS)
    expect(problemsOf(['x '.repeat(1000)], 2)).toHaveLength(MOST_PROBLEMS)
  })

  test('refuses more than 20,000 picks without reading them', () => {
    expect(problemsOf(new Array<string>(20_001).fill('2F'), 2)).toEqual([
      { pick: 20_001, message: '20001 picks found, at most 20000 can be read.' },
    ])
  })

  test.each([0, -1, 1.5, 401, Number.NaN])('throws on %d tablets', (tablets) => {
    expect(() => readTurning(['1F'], tablets)).toThrow(RangeError)
  })
})

describe('writeTurning(turning)', () => {
  test('is undone by readTurning', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ turning }) => {
        expect(readTurning(writeTurning(turning), turning.tablets)).toEqual({ ok: true, turning })
      }),
    )
  })

  test('writes the fewest runs', () => {
    const read = readTurning(['1F1F 2f, 1(2b) 1(2B)'], 6)
    expect(read.ok && writeTurning(read.turning)).toEqual(['4F 2(2B)'])
  })

  test('throws on a turn that is none, and on a wrong size', () => {
    expect(() => writeTurning({ tablets: 1, picks: 1, turns: Int8Array.of(3) })).toThrow('turning.turns[0]')
    expect(() => writeTurning({ tablets: 2, picks: 1, turns: Int8Array.of(1) })).toThrow(RangeError)
  })
})

describe('turningOf(draft)', () => {
  test('gives the turns of the draft', () => {
    const { draft, turning } = draftOf(
      [makeTablet(), makeTablet()],
      [
        [1, -1],
        [0, 2],
      ],
    )
    expect(turningOf(draft)).toEqual(turning)
  })

  test('throws on picks that do not fit the tablets', () => {
    const { draft } = draftOf([makeTablet(), makeTablet()], [[1, -1]])
    expect(() => turningOf({ ...draft, picks: ['3F'] })).toThrow('Pick 1: 3 tablets found, 2 needed.')
  })
})
