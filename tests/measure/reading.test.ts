import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { readReadings } from '../../shared/measure/reading.ts'
import type { QuantityKind, Unit } from '../../shared/measure/unit.ts'

const WIDTH = { kind: 'length', unit: 'mm' } as const
const PICKS = { kind: 'perCm', unit: 'perCm' } as const

function values(text: string, field: { kind: QuantityKind; unit: Unit }): number[] {
  const read = readReadings(text, field)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.readings.map((reading) => reading.value)
}

function problems(text: string, field: { kind: QuantityKind; unit: Unit }): string[] {
  const read = readReadings(text, field)
  if (read.ok) throw new Error(`${text} was read`)
  expect(read.entered).toBe(text)
  return read.problems.map(({ line, column, word, message }) => `${line}:${column} ${word}: ${message}`)
}

describe('readReadings(text) of a width', () => {
  test.each([
    ['13.5 13.2 13', [13.5, 13.2, 13]],
    ['13,5 13,2', [13.5, 13.2]],
    ['13.5;13.2; 13', [13.5, 13.2, 13]],
    ['13.5\n13.2\r\n\n13', [13.5, 13.2, 13]],
    ['13.5 mm 13,2mm', [13.5, 13.2]],
    ['.5', [0.5]],
    ['', []],
    [' \n ; ', []],
  ])('%j gives %j', (text, expected) => {
    expect(values(text, WIDTH)).toEqual(expected)
  })

  test('keeps the words as they were typed', () => {
    const read = readReadings('13,50', WIDTH)
    expect(read).toEqual({ ok: true, readings: [{ entered: '13,50', value: 13.5 }] })
  })

  const COMMA = 'A comma is read as a decimal comma. Separate readings with a space, a new line or a semicolon.'
  test.each([
    ['13, 14', [`1:1 13,: ${COMMA}`]],
    ['13,14,15', [`1:1 13,14,15: ${COMMA}`]],
    ['1.234,5', [`1:1 1.234,5: ${COMMA}`]],
    ['13 -2', ['1:4 -2: A reading has no minus sign.']],
    ['13\n13.2 about', ['2:6 about: This is not a number.']],
    ['3 x 13.2', ['1:3 x: This is not a number.']],
    ['13 1e3', ['1:4 1e3: This is not a number.']],
    ['13.2.1', ['1:1 13.2.1: This is not a number.']],
    ['0', ['1:1 0: A reading of zero cannot be compared; leave it out.']],
    ['1.3 cm', ['1:5 cm: This field is in mm.']],
    ['1.3cm', ['1:1 1.3cm: This field is in mm.']],
    ['13; nine; ten', ['1:5 nine: This is not a number.', '1:11 ten: This is not a number.']],
    ['1234567890123', ['1:1 1234567890123: This number has too many digits.']],
    ['72/9', ['1:1 72/9: This is not a number.']],
    ['NaN', ['1:1 NaN: This is not a number.']],
  ])('%j is refused with its place', (text, expected) => {
    expect(problems(text, WIDTH)).toEqual(expected)
  })

  test('counts the columns in characters as people see them', () => {
    expect(problems('𝟏𝟑 13 x', WIDTH)).toEqual(['1:1 𝟏𝟑: This is not a number.', '1:7 x: This is not a number.'])
  })

  test('refuses more than a thousand readings at the first that is too many', () => {
    expect(values('13 '.repeat(1000), WIDTH)).toHaveLength(1000)
    expect(problems('13 '.repeat(1001), WIDTH)).toEqual(['1:3001 13: These are more than 1000 readings.'])
    expect(problems('x '.repeat(30_000), WIDTH)).toEqual(['1:1 x: This is longer than 1000 readings are.'])
  })
})

describe('readReadings(text) of a density', () => {
  // Common practice, no source: 72 picks in 9 cm are 8 picks/cm.
  test.each(['72 in 9', '72/9', '72 / 9', '72 in 9 cm', '72 in 90 mm', '72/9cm', '72 in 90mm'])(
    '%j is 8 per cm',
    (text) => {
      expect(values(text, PICKS)).toEqual([8])
      const read = readReadings(text, PICKS)
      expect(read.ok && read.readings[0]?.counted).toEqual({ count: 72, lengthMm: 90 })
      expect(read.ok && read.readings[0]?.entered.startsWith('72 ')).toBe(true)
    },
  )

  test('plain densities stand beside counts over a length', () => {
    expect(values('8 72 in 9 7,5; 76/9,5', PICKS)).toEqual([8, 8, 7.5, 8])
  })

  test('a count over a length is given in the unit of the field', () => {
    expect(values('72 in 9', { kind: 'perCm', unit: 'per10Cm' })).toEqual([80])
    expect(values('60 in 3', { kind: 'perCm', unit: 'perIn' })).toEqual([20])
    expect(values('60 in 3 in 40 in 2 in', { kind: 'perCm', unit: 'perIn' })).toEqual([20, 20])
  })

  test.each([
    ['72 in', ['1:4 in: After this a length is wanted, as in 72 in 9.']],
    ['72 in\n9', ['1:4 in: After this a length is wanted, as in 72 in 9.']],
    ['72 in nine', ['1:7 nine: This is not a number.']],
    ['72/0', ['1:4 0: The length of a count is more than zero.']],
    ['0/9', ['1:1 0: A count over a length is more than zero.']],
    ['72 in 9°', ['1:7 9°: The length of a count is in mm, cm or in.']],
    ['8 mm', ['1:3 mm: A density is a number per cm, or a count over a length as in 72 in 9.']],
    ['8/', ['1:2 /: After this a length is wanted, as in 72 in 9.']],
  ])('%j is refused with its place', (text, expected) => {
    expect(problems(text, PICKS)).toEqual(expected)
  })
})

test('readReadings of a count takes whole numbers alone', () => {
  expect(values('21 0', { kind: 'count', unit: 'count' })).toEqual([21, 0])
  expect(problems('21.5', { kind: 'count', unit: 'count' })).toEqual(['1:1 21.5: A count is a whole number.'])
  expect(problems('21 mm', { kind: 'count', unit: 'count' })).toEqual(['1:4 mm: A count has no unit.'])
})

test('readReadings of an angle takes 0 to 90 degrees', () => {
  expect(values('0 35° 40 °', { kind: 'angle', unit: 'deg' })).toEqual([0, 35, 40])
  expect(problems('91', { kind: 'angle', unit: 'deg' })).toEqual(['1:1 91: A twist angle is from 0 to 90 degrees.'])
  expect(problems('35 mm', { kind: 'angle', unit: 'deg' })).toEqual(['1:4 mm: This field is in degrees.'])
})

test('readReadings refuses a unit that does not measure that kind', () => {
  expect(() => readReadings('13', { kind: 'length', unit: 'deg' })).toThrow(RangeError)
})

test('readReadings of any text answers with readings or with problems, and every value is a finite number', () => {
  const pieces = fc.constantFrom('13', '13,5', '.', ',', ';', ' ', '\n', '/', 'in', 'cm', '°', '-', '9', 'x', '𝟏', '\t')
  fc.assert(
    fc.property(
      fc.array(pieces).map((parts) => parts.join('')),
      fc.constantFrom(WIDTH, PICKS),
      (text, field) => {
        const read = readReadings(text, field)
        if (read.ok) expect(read.readings.every(({ value }) => Number.isFinite(value) && value > 0)).toBe(true)
        else {
          const lines = text.split('\n')
          for (const { line, column, word } of read.problems)
            expect(
              [...(lines[line - 1] ?? '')]
                .slice(column - 1)
                .join('')
                .startsWith(word),
            ).toBe(true)
        }
      },
    ),
    { numRuns: 500 },
  )
})
