import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { canonicalDraft } from '../../shared/draft/document.ts'
import { boundPicks, shownPicks } from '../../shared/draft/entry/bound.ts'
import { DYE_HEX, readColourText, writeColourText } from '../../shared/draft/entry/colour-text.ts'
import { readDraftEntry, writeDraftEntry } from '../../shared/draft/entry/draft-entry.ts'
import { sayEntry, sayLeftOut } from '../../shared/draft/entry/say-entry.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { arbitraryDraft } from '../draft/arbitrary-draft.ts'
import { STEP, STEP_TYPED } from './sample.ts'

describe('readColourText(text)', () => {
  test('reads key, name and hex, and knows the dye words', () => {
    expect(readColourText('m madder #9C3B2E\n\n  W undyed wool\nb2 #26385c\nw3 pale walnut, dyed twice')).toEqual({
      problems: [],
      colours: {
        m: { name: 'madder', hex: '#9c3b2e' },
        w: { name: 'undyed wool', hex: DYE_HEX.undyed },
        b2: { name: 'b2', hex: '#26385c' },
        w3: { name: 'pale walnut, dyed twice', hex: DYE_HEX.walnut },
      },
    })
  })

  test.each([
    ['', 1, 1, 'No colour found'],
    ['m crimson', 1, 10, '“crimson” is none of our dye words'],
    ['m madder #9c3b2', 1, 10, 'A colour is # and six of 0-9 and a-f'],
    ['m madder\nM walnut', 2, 1, 'The key “m” is taken by a line above.'],
    ['  mä madder', 1, 3, '“mä”: A colour key is 1 to 8 of a-z and 0-9.'],
    ['toolongkey madder', 1, 1, 'A colour key is 1 to 8'],
    [`m ${'long '.repeat(30)}#9c3b2e`, 1, 3, 'A colour name has at most 100 characters; this one has 149.'],
    ['__proto__ madder', 1, 1, 'A colour key is 1 to 8'],
  ])('of %j complains at line %i, character %i', (text, line, column, message) => {
    const [problem, ...more] = readColourText(text).problems
    expect(problem).toMatchObject({ line, column })
    expect(problem!.message).toContain(message)
    expect(more).toEqual([])
  })

  test('reads back what writeColourText wrote', () => {
    const hex = fc.integer({ min: 0, max: 0xffffff }).map((bits) => `#${bits.toString(16).padStart(6, '0')}`)
    const name = fc.string({ minLength: 1, maxLength: 30 }).map((text) => text.replace(/\s+/g, ' ').trim() || 'x')
    const colours = fc.dictionary(fc.stringMatching(/^[a-z0-9]{1,8}$/), fc.record({ name, hex }), { minKeys: 1 })
    fc.assert(
      fc.property(colours, (some) => {
        expect(readColourText(writeColourText(some))).toEqual({ problems: [], colours: { ...some } })
      }),
    )
  })
})

describe('readDraftEntry(entry)', () => {
  test('reads the words of the form', () => {
    const read = readDraftEntry(STEP_TYPED)
    expect(read).toMatchObject({ ok: true, draft: STEP, turning: turningOf(STEP) })
    expect(sayEntry(read)).toBe('6 tablets, 12 picks.')
  })

  test('reads back what writeDraftEntry wrote', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft }) => {
        const read = readDraftEntry(writeDraftEntry(draft))
        expect(read.ok && canonicalDraft(read.draft)).toEqual(canonicalDraft(draft))
      }),
    )
  })

  test('with a bad line in the turning gives the picks before it', () => {
    const read = readDraftEntry({ ...STEP_TYPED, turning: '6F x4\n5F\n6B' })
    expect(read.ok).toBe(false)
    if (read.ok) return
    expect(read.problems).toEqual([
      { field: 'turning', line: 2, column: 3, message: 'Pick 5: 5 tablets found, 6 needed.' },
    ])
    expect(read.begun?.turning.picks).toBe(4)
    expect(sayEntry(read)).toBe('1 problem in the turning. Drawn are the first 4 picks.')
  })

  test('with a bad first pick or a bad threading gives nothing to draw', () => {
    for (const change of [{ turning: '5F\n6F' }, { threading: 'S m m w' }]) {
      const read = readDraftEntry({ ...STEP_TYPED, ...change })
      expect(read.ok ? 'good' : read.begun).toBeUndefined()
      expect(sayEntry(read)).toContain('Nothing can be drawn yet.')
    }
  })

  test('with a colour whose hex is wrong still draws, and complains of the colour alone', () => {
    const read = readDraftEntry({ ...STEP_TYPED, colours: 'm madder #9c3b2\nw undyed' })
    expect(read.ok ? [] : read.problems.map(({ field }) => field)).toEqual(['colours'])
    expect(read.ok ? undefined : read.begun?.turning.picks).toBe(12)
  })

  test('with problems in several fields names them in the order of the form', () => {
    const read = readDraftEntry({ ...STEP_TYPED, weft: '', turning: '6Q' })
    expect(sayEntry(read)).toBe('2 problems in the weft and the turning. Nothing can be drawn yet.')
  })
})

describe('boundPicks(drawable, mostStitches)', () => {
  const drawable = { draft: STEP, turning: turningOf(STEP) }

  test('gives the draft itself when it fits, and its first picks when not', () => {
    expect(boundPicks(drawable, 72)).toBe(drawable)
    const bound = boundPicks(drawable, 71)
    expect(bound.draft.picks).toHaveLength(11)
    expect(bound.turning).toMatchObject({ tablets: 6, picks: 11 })
    expect(bound.turning.turns).toHaveLength(66)
    expect(boundPicks(drawable, 1).turning.picks).toBe(1)
    expect(() => boundPicks(drawable, 0)).toThrow(RangeError)
    expect(sayLeftOut(drawable)).toBe('')
  })

  test('shownPicks(drawable, isWhole, pickPerTablet) tiles a whole draft in whole repeats', () => {
    expect(shownPicks(drawable, true, 0.09)).toBe(96)
    expect(shownPicks(drawable, true, 3)).toBe(12)
    expect(shownPicks(drawable, false, 0.1)).toBe(12)
  })
})
