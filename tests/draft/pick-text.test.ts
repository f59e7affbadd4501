import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { readPickText, splitPicks } from '../../shared/draft/pick-text.ts'
import { writeTurning } from '../../shared/draft/turning.ts'
import { arbitraryDraft } from './arbitrary-draft.ts'

function problemsOf(text: string, tablets: number) {
  const read = readPickText(text, tablets)
  return read.ok ? [] : read.problems
}

describe('splitPicks(text)', () => {
  test('skips comments and empty lines and keeps the place of each pick', () => {
    const text = '# a band\n\n  6F\r\n3: 6B # back\n'.replace('3:', '2:')
    expect(splitPicks(text)).toEqual({
      lines: ['6F', '6B'],
      places: [
        { line: 3, column: 3 },
        { line: 4, column: 4 },
      ],
      problems: [],
    })
  })

  test.each(['6F x3', '6F x 3', '6F X3', '6F×3', '6F × 3', '1-3: 6F', '1 – 3 : 6F', '1-3: 6F x3', '1: 6F x3'])(
    'takes %j as three picks',
    (text) => {
      const { lines, problems } = splitPicks(text)
      expect(problems).toEqual([])
      expect(lines).toEqual(['6F', '6F', '6F'])
    },
  )

  test.each([
    ['6F\n3: 6F', 2, 1, 'This line is numbered 3, but it is pick 2.'],
    ['  4-2: 6F', 1, 3, 'The range 4-2 runs backwards.'],
    ['1-4: 6F x3', 1, 1, '1-4 is 4 picks, but the line stands for 3.'],
    ['6F x0', 1, 4, 'A line repeated 0 times is no pick.'],
    ['6F\n6B x20000', 2, 1, 'This line brings the draft to 20001 picks; at most 20000 fit.'],
    ['1-999999: 6F', 1, 11, 'This line brings the draft to 999999 picks; at most 20000 fit.'],
  ])('finds what is wrong in %j', (text, line, column, message) => {
    expect(splitPicks(text).problems).toEqual([{ line, column, message }])
  })

  test('goes on counting after a number that does not fit', () => {
    expect(splitPicks('5: 6F\n2: 6F\n3: 6F').problems).toHaveLength(1)
  })
})

describe('readPickText(text, tablets)', () => {
  test('gives plain lines and the turning', () => {
    expect(readPickText('1-2: 1F 1B\n2I x2', 2)).toEqual({
      ok: true,
      picks: ['1F 1B', '1F 1B', '2I', '2I'],
      turning: { tablets: 2, picks: 4, turns: Int8Array.of(1, -1, 1, -1, 0, 0, 0, 0) },
    })
  })

  test('reads back what writeTurning wrote', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft, turning }) => {
        const text = writeTurning(turning).join('\n')
        expect(readPickText(text, turning.tablets)).toEqual({ ok: true, picks: draft.picks, turning })
      }),
    )
  })

  test('points at line and character of the text, behind number and comment', () => {
    expect(problemsOf('# begin\n1: 6F\n\n 2: 3F 3X', 6)).toEqual([
      {
        line: 4,
        column: 8,
        pick: 2,
        message: 'Pick 2: “3X” cannot be read; a turn is F, B, I, (2F) or (2B).',
      },
    ])
  })

  test('complains once of a line that stands for many picks, and of all lines in order', () => {
    expect(problemsOf('5F x500\n6F\n7: 4F', 6).map(({ line, pick }) => [line, pick])).toEqual([
      [1, 1],
      [3, undefined],
      [3, 502],
    ])
  })

  test.each(['', '\n # nothing\n'])('refuses the text %j that has no pick', (text) => {
    expect(problemsOf(text, 6)).toEqual([{ line: 1, column: 1, message: 'No pick found; a draft needs at least one.' }])
  })

  test('refuses a repeat with nothing to repeat', () => {
    expect(problemsOf('x12', 6).map(({ message }) => message)).toEqual(['Pick 1: 0 tablets found, 6 needed.'])
  })

  test('lists fifty problems at most', () => {
    expect(problemsOf('5F\n'.repeat(300), 6)).toHaveLength(50)
  })

  test('throws on a number of tablets out of range', () => {
    expect(() => readPickText('1F', 0)).toThrow(RangeError)
  })
})
