import { describe, expect, test } from 'vitest'
import { texOf } from '../../shared/yarn/count.ts'
import { readCount } from '../../shared/yarn/written-count.ts'

function readingOf(text: string) {
  const read = readCount(text)
  if (!read.ok) throw new Error(`${text}: ${'message' in read ? read.message : read.question}`)
  return read.reading
}

describe('readCount(text) of a count with its system', () => {
  test.each([
    ['Nm 28/2', 'Nm', 28, 2, 1000 / 28, 2000 / 28],
    ['28/2 Nm', 'Nm', 28, 2, 1000 / 28, 2000 / 28],
    ['Nm 2/28', 'Nm', 28, 2, 1000 / 28, 2000 / 28],
    ['nm28/2', 'Nm', 28, 2, 1000 / 28, 2000 / 28],
    ['16 lea', 'NeL', 16, 1, texOf(16, 'NeL'), texOf(16, 'NeL')],
    ['NeL 40/2', 'NeL', 40, 2, texOf(40, 'NeL'), 2 * texOf(40, 'NeL')],
    ['40/2 linen NeL', 'NeL', 40, 2, texOf(40, 'NeL'), 2 * texOf(40, 'NeL')],
    ['Ne 40/2', 'NeC', 40, 2, texOf(40, 'NeC'), 2 * texOf(40, 'NeC')],
    ['NeW 20', 'NeW', 20, 1, texOf(20, 'NeW'), texOf(20, 'NeW')],
    ['34 tex x 2', 'tex', 34, 2, 34, 68],
    ['34 tex × 2', 'tex', 34, 2, 34, 68],
    ['tex 25', 'tex', 25, 1, 25, 25],
    ['12,5 tex x 2', 'tex', 12.5, 2, 12.5, 25],
    ['150 den', 'denier', 150, 1, 150 / 9, 150 / 9],
    ['400 m/100 g', 'mPer100g', 400, 1, 250, 250],
    ['3360 yd/lb', 'ydPerLb', 3360, 1, texOf(3360, 'ydPerLb'), texOf(3360, 'ydPerLb')],
    ['3-run'.replace('-', ' '), 'run', 3, 1, texOf(3, 'run'), texOf(3, 'run')],
  ] as const)('%s is %s %d, %d-ply', (text, system, value, ply, singleTex, resultantTex) => {
    const reading = readingOf(text)
    expect(reading).toMatchObject({ system, value, ply })
    expect(reading.singleTex).toBeCloseTo(singleTex, 9)
    expect(reading.resultantTex).toBeCloseTo(resultantTex, 9)
  })

  // C. P. Brooks, Cotton Manufacturing: in spun silk the number is the resultant count; 30/2 wraps 30s.
  test('30/2 spun silk counts the plied yarn', () => {
    const reading = readingOf('30/2 spun silk')
    expect(reading).toMatchObject({ system: 'NeC', of: 'whole', ply: 2 })
    expect(reading.resultantTex).toBeCloseTo(texOf(30, 'NeC'), 9)
  })

  test('34 tex x 2 R 69.3 tex keeps the contraction as its own figure', () => {
    const reading = readingOf('34 tex x 2 R 69.3 tex')
    expect(reading.resultantTex).toBe(69.3)
    expect((100 * reading.contraction!).toFixed(2)).toBe('1.88')
    expect(reading.sentence).toContain('plying took up 1.88 % of the length')
  })

  test('R 69.3 tex is the whole yarn', () => {
    expect(readingOf('R 69.3 tex')).toMatchObject({ of: 'whole', resultantTex: 69.3 })
  })

  test('says in words what it read', () => {
    expect(readingOf('Nm 28/2').sentence).toBe(
      'Nm (metric) 28 counts one single, 2 of them plied: 35.7 tex x 2, 71.4 tex together.',
    )
  })
})

describe('readCount(text) where customs differ asks', () => {
  test.each([
    ['20/2 wool', ['Nm', 'NeW']],
    ['40/2 linen', ['NeL', 'Nm']],
    ['8/2 cotton', ['NeC', 'Nm']],
    ['60/2 silk', ['Nm', 'NeC']],
    ['Ne 20 wool', ['NeW', 'NeC']],
  ])('%s could be %j', (text, systems) => {
    const read = readCount(text)
    if (read.ok || !('readings' in read)) throw new Error('expected a question')
    expect(read.readings.map((one) => one.system)).toEqual(systems)
    for (const { sentence } of read.readings) expect(read.question).toContain(sentence)
  })

  test('Nm 10/8: which is the ply cannot be told', () => {
    const read = readCount('Nm 10/8')
    if (read.ok || !('readings' in read)) throw new Error('expected a question')
    expect(read.readings.map(({ value, ply }) => [value, ply])).toEqual([
      [10, 8],
      [8, 10],
    ])
  })
})

describe('readCount(text) refuses with a sentence', () => {
  test.each([
    ['', 'Write the count'],
    ['fine', 'not a count'],
    ['20/2', 'which system'],
    ['0 tex', 'more than zero'],
    ['Nm 0/2', 'more than zero'],
    ['20 cubits', '“cubits” is no count system'],
    ['Nm 28/27', 'up to 12'],
    ['400/2 m/100 g', 'no ply'],
    ['34 tex x 2 R 60 tex', 'less than the singles together'],
  ])('“%s”', (text, part) => {
    const read = readCount(text)
    expect(read).toMatchObject({ ok: false })
    expect('message' in read && read.message).toContain(part)
  })
})
