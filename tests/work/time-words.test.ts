import { expect, test } from 'vitest'
import { dayInWords, durationInWords } from '../../shared/work/time-words.ts'

test.each([
  ['2026-03-04', '4 March 2026'],
  ['1987-12-31', '31 December 1987'],
])('dayInWords(day) writes %s as %s', (day, words) => {
  expect(dayInWords(day)).toBe(words)
})

test.each(['2026-3-4', '2026-00-10', '2026-13-01', '', '14 March'])('dayInWords(day) refuses "%s"', (day) => {
  expect(() => dayInWords(day)).toThrow(RangeError)
})

test.each([
  [0, '0 min'],
  [59, '59 min'],
  [59.6, '1 h'],
  [90, '1 h 30 min'],
  [120, '2 h'],
  [6000, '100 h'],
])('durationInWords(minutes) writes %d as %s', (minutes, words) => {
  expect(durationInWords(minutes)).toBe(words)
})

test('durationInWords(minutes) refuses less than nothing', () => {
  expect(() => durationInWords(-1)).toThrow(new RangeError('minutes must be zero or more, not -1'))
})
