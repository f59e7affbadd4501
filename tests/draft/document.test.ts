import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { canonicalDraft, readDraft } from '../../shared/draft/document.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { arbitraryDraft } from './arbitrary-draft.ts'

const FRET = {
  title: 'Stepped fret, two tablets',
  colours: { m: { name: 'madder', hex: '#9c3b2e' }, w: { name: 'undyed', hex: '#e9dfc8' } },
  weft: 'm',
  tablets: [
    { threading: 'S', holes: ['m', 'm', 'm', 'm'], start: 'A', part: 'border' },
    { threading: 'Z', holes: ['m', null, 'w', 'w'], start: 'C', part: 'pattern' },
  ],
  picks: ['2F', '1F 1B', '2(2F)'],
}

const ONE_LINE = 'This must be one line, without control characters.'

function problemsOf(input: unknown) {
  const read = readDraft(input)
  return read.ok ? [] : read.problems.map(({ path, message }) => [path, message])
}

/** As it comes from outside, where `__proto__` is a key like any other. */
function fromText(change: string): unknown {
  return JSON.parse(JSON.stringify(FRET).replace('"weft":"m"', change))
}

describe('readDraft(input)', () => {
  test('gives back a good document', () => {
    expect(readDraft(FRET)).toEqual({ ok: true, draft: FRET })
  })

  test('fills in start and part and lowers the case of a hex colour', () => {
    const read = readDraft({
      ...FRET,
      colours: { m: { name: '', hex: '#9C3B2E' } },
      tablets: [{ threading: 'S', holes: ['m', 'm', 'm', 'm'] }],
      picks: ['1f'],
    })
    expect(read.ok && [read.draft.tablets[0]!.start, read.draft.tablets[0]!.part]).toEqual(['A', 'pattern'])
    expect(read.ok && [read.draft.colours['m']!.hex, read.draft.picks[0]]).toEqual(['#9c3b2e', '1f'])
  })

  test.each([null, undefined, 7, 'a draft', [], true])('refuses %j', (input) => {
    const read = readDraft(input)
    expect(!read.ok && read.problems.map(({ path }) => path)).toEqual([''])
  })

  test('names all that is missing', () => {
    expect(problemsOf({}).map(([path]) => path)).toEqual(['title', 'colours', 'weft', 'tablets', 'picks'])
  })

  const [edge, inner] = FRET.tablets
  test.each([
    ['an unknown key', { ...FRET, tablet: 3 }, 'tablet', 'This key is not part of a draft document.'],
    [
      'an unknown key in a tablet',
      { ...FRET, tablets: [edge, { ...inner, turn: 'F' }] },
      'tablets[1].turn',
      'This key is not part of a draft document.',
    ],
    ['a strange key', { ...FRET, 'a b': 3 }, '["a b"]', 'This key is not part of a draft document.'],
    [
      'another threading',
      { ...FRET, tablets: [edge, { ...inner, threading: 'X' }] },
      'tablets[1].threading',
      'This must be one of S, Z.',
    ],
    [
      'a start that is no hole',
      { ...FRET, tablets: [{ ...edge, start: 'E' }, inner] },
      'tablets[0].start',
      'This must be one of A, B, C, D.',
    ],
    [
      'three holes',
      { ...FRET, tablets: [edge, { ...inner, holes: ['m', 'm', 'm'] }] },
      'tablets[1].holes',
      'This list must have at least 4.',
    ],
    [
      'a hole without colour',
      { ...FRET, tablets: [edge, { ...inner, holes: ['m', 'q', null, 'm'] }] },
      'tablets[1].holes[1]',
      'No colour of the draft has the key “q”.',
    ],
    [
      'a hole named as JavaScript names things',
      { ...FRET, tablets: [edge, { ...inner, holes: ['m', 'm', 'valueof', 'm'] }] },
      'tablets[1].holes[2]',
      'No colour of the draft has the key “valueof”.',
    ],
    [
      'a hole that is no key',
      { ...FRET, tablets: [edge, { ...inner, holes: ['m', 'm', 'm', 'Madder'] }] },
      'tablets[1].holes[3]',
      'A colour key is 1 to 8 of a-z and 0-9.',
    ],
    [
      'a hole that is a number',
      { ...FRET, tablets: [edge, { ...inner, holes: ['m', 'm', 'm', 3] }] },
      'tablets[1].holes[3]',
      'A hole is a colour key, or null when it is empty.',
    ],
    ['a weft that is no colour', { ...FRET, weft: 'q' }, 'weft', 'No colour of the draft has the key “q”.'],
    [
      'a colour that is no hex',
      { ...FRET, colours: { ...FRET.colours, m: { name: 'madder', hex: 'red' } } },
      'colours.m.hex',
      'A colour is # and six of 0-9 and a-f, as in #9c3b2e.',
    ],
    [
      'a key that is too long',
      { ...FRET, colours: { ...FRET.colours, madderred: { name: '', hex: '#000000' } } },
      'colours.madderred',
      'A colour key is 1 to 8 of a-z and 0-9.',
    ],
    [
      'a title that is too long',
      { ...FRET, title: 'a'.repeat(301) },
      'title',
      'This is too long; at most 300 characters are read.',
    ],
    ['a title of two lines', { ...FRET, title: 'Fret\nof two' }, 'title', ONE_LINE],
    [
      'a colour name that would end its line where it is typed',
      { ...FRET, colours: { ...FRET.colours, m: { name: 'mad\nder', hex: '#9c3b2e' } } },
      'colours.m.name',
      ONE_LINE,
    ],
    ['no tablet', { ...FRET, tablets: [] }, 'tablets', 'This list must have at least 1.'],
    ['no pick', { ...FRET, picks: [] }, 'picks', 'This list must have at least 1.'],
    ['a pick that is no text', { ...FRET, picks: ['2F', 2] }, 'picks[1]', 'This must be text.'],
    [
      'a pick of too few tablets',
      { ...FRET, picks: ['2F', '1B'] },
      'picks[1]',
      'Pick 2: 1 tablet found, 2 needed. (Character 3.)',
    ],
    ['picks that are no list', { ...FRET, picks: '2F' }, 'picks', 'This must be a list.'],
    [
      '401 tablets',
      { ...FRET, tablets: new Array(401).fill(edge) },
      'tablets',
      '401 tablets found, at most 400 are read.',
    ],
    [
      '20,001 picks',
      { ...FRET, picks: new Array(20_001).fill('2F') },
      'picks',
      '20001 picks found, at most 20000 are read.',
    ],
    [
      '__proto__ as a key',
      fromText('"weft":"m","__proto__":{"weft":"m"}'),
      '__proto__',
      'This key is not part of a draft document.',
    ],
  ])('refuses %s', (_, input, path, message) => {
    expect(problemsOf(input)).toEqual([[path, message]])
  })

  test.each(['__proto__', 'constructor', 'toString', '', 'M'])('refuses the colour key %j', (key) => {
    const colours = `{"m":{"name":"","hex":"#000000"},"w":{"name":"","hex":"#000000"},"${key}":{"name":"","hex":"#000000"}}`
    const input: unknown = JSON.parse(`{"title":"","colours":${colours},"weft":"m","tablets":[],"picks":[]}`)
    const problems = problemsOf(input)
    expect(problems).toHaveLength(1)
    expect(problems[0]![1]).toBe('A colour key is 1 to 8 of a-z and 0-9.')
  })

  test('refuses __proto__ as the weft and as a hole', () => {
    expect(problemsOf(fromText('"weft":"__proto__"')).map(([path]) => path)).toEqual(['weft'])
    const tablets = [{ threading: 'S', holes: ['__proto__', 'm', 'm', 'm'] }]
    expect(problemsOf({ ...FRET, tablets }).map(([path]) => path)).toEqual(['tablets[0].holes[0]'])
  })

  test('lists fifty problems at most', () => {
    const many = Object.fromEntries(Array.from({ length: 500 }, (_, at) => [`key${at}`, at]))
    expect(problemsOf({ ...FRET, ...many })).toHaveLength(50)
    expect(problemsOf({ ...FRET, colours: many })).toHaveLength(1)
    expect(problemsOf({ ...FRET, picks: new Array(20_000).fill(1) })).toHaveLength(50)
    expect(problemsOf({ ...FRET, picks: new Array(20_000).fill('9F') })).toHaveLength(50)
  })

  test('reads the largest document there may be', () => {
    const read = readDraft({ ...FRET, tablets: new Array(400).fill(edge), picks: new Array(20_000).fill('400F') })
    expect(read.ok).toBe(true)
  })
})

describe('canonicalDraft(draft)', () => {
  test('round-trips every draft through JSON without loss', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft, turning }) => {
        const text = JSON.stringify(canonicalDraft(draft))
        const read = readDraft(JSON.parse(text))
        if (!read.ok) throw new Error(read.problems[0]!.message)
        expect(read.draft).toEqual(draft)
        expect(turningOf(read.draft)).toEqual(turning)
        expect(JSON.stringify(canonicalDraft(read.draft))).toBe(text)
      }),
    )
  })

  test('gives one text for drafts that say the same', () => {
    const { picks, tablets, weft, colours, title } = FRET
    const shuffled = readDraft({
      picks: ['1F 1f', '1F,1B', '1(2F)1(2F)'],
      tablets: tablets.map(({ threading, holes, start, part }) => ({ part, start, holes, threading })),
      weft,
      colours: { w: colours.w, m: { hex: '#9C3B2E', name: 'madder' } },
      title,
    })
    if (!shuffled.ok) throw new Error(shuffled.problems[0]!.message)
    expect(picks).toEqual(canonicalDraft(shuffled.draft).picks)
    expect(JSON.stringify(canonicalDraft(shuffled.draft))).toBe(JSON.stringify(FRET))
  })

  test('throws on picks that cannot be read', () => {
    const read = readDraft(FRET)
    if (!read.ok) throw new Error('FRET is good')
    expect(() => canonicalDraft({ ...read.draft, picks: ['9F'] })).toThrow(RangeError)
  })
})
