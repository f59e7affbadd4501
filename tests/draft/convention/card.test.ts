import { describe, expect, it, test } from 'vitest'
import { ANSWERS, NOTHING_STATED, OUR_FRAME, QUESTIONS, readCard } from '../../../shared/draft/convention/card.ts'
import { choicePicture } from '../../../shared/draft/convention/choice-picture.ts'
import { sayAnswer, sayChanges, sayWritten } from '../../../shared/draft/convention/say.ts'
import { readWritten, writtenText } from '../../../shared/draft/convention/written.ts'

describe('readCard(input)', () => {
  it('takes a card and gives its questions in order', () => {
    const mixed = Object.fromEntries(Object.entries(NOTHING_STATED).reverse())
    expect(Object.keys(readCard(mixed)!)).toEqual(QUESTIONS)
  })

  test.each([
    ['nothing', null],
    ['a list', []],
    ['a question too few', { ...OUR_FRAME, rows: undefined }],
    ['a question too many', { ...OUR_FRAME, hand: 'left' }],
    ['an answer to another question', { ...OUR_FRAME, rows: 'left' }],
    ['an answer of the prototype', { ...OUR_FRAME, rows: 'constructor' }],
  ])('refuses %s', (_, input) => expect(readCard(input)).toBeUndefined())
})

describe('readWritten(text)', () => {
  it('reads what writtenText writes', () => {
    for (const written of [{ kind: 'unsaid' }, { kind: 'own' }, { kind: 'card', card: OUR_FRAME }] as const) {
      expect(readWritten(writtenText(written))).toEqual(written)
    }
  })

  test.each(['card', '{}', '[]', ' own', `${writtenText({ kind: 'card', card: OUR_FRAME })} `])('refuses %j', (text) =>
    expect(readWritten(text)).toBeUndefined(),
  )
})

describe('the words of a card', () => {
  it('say what was converted, which letters became which, and what was not stated', () => {
    expect(sayChanges(OUR_FRAME)).toEqual(['Nothing had to be converted: it says the same in our own frame.'])
    expect(sayChanges({ ...OUR_FRAME, sense: 'clockwise' })).toEqual([
      'The author’s holes A, B, C, D are our A, D, C, B.',
    ])
    expect(sayChanges({ ...OUR_FRAME, face: 'threadTowards' })).toEqual([
      'The author’s holes A, B, C, D stay as they are where the thread slants S, and are our A, D, C, B where it slants Z.',
    ])
    expect(sayChanges({ ...OUR_FRAME, end: 'warp' })).toEqual([
      'The tablets stand in the opposite order.',
      'F and B changed places.',
      'The author’s holes A, B, C, D are our D, C, B, A.',
    ])
    expect(sayAnswer(NOTHING_STATED, 'count')).toBe('not stated; taken as the reader’s left')
    expect(sayWritten({ kind: 'card', card: { ...OUR_FRAME, rows: 'notStated' } })).toContain('1 of 8')
  })
})

test('choicePicture(question, answer) draws every answer but “not stated”, and no two answers of a question alike', () => {
  for (const question of QUESTIONS) {
    const drawn = ANSWERS[question].map((answer) => choicePicture(question, answer as never))
    expect(drawn.at(-1)).toBe('')
    expect(new Set(drawn).size, question).toBe(ANSWERS[question].length)
    for (const picture of drawn.slice(0, -1)) {
      expect(picture).toMatch(/^<svg class="choice-picture".*<\/svg>$/)
      expect(picture).not.toContain('NaN')
      expect(picture).not.toContain('style=')
    }
  }
})
