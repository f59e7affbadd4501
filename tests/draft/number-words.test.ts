import { expect, test } from 'vitest'
import { sayCount, sayListed, sayNumbers, sayPicks } from '../../shared/draft/number-words.ts'

test.each([
  [[], ''],
  [[3], '3'],
  [[1, 2, 23, 24], '1, 2, 23, 24'],
  [[3, 4, 5, 6, 7, 8, 9, 12], '3 to 9, 12'],
  [[1, 2, 3], '1 to 3'],
])('sayNumbers(%j) folds runs of three and more', (numbers, said) => {
  expect(sayNumbers(numbers)).toBe(said)
})

test('sayNumbers(numbers, most) counts what it leaves out', () => {
  expect(sayNumbers([1, 3, 5, 7, 8, 9], 2)).toBe('1, 3 and 4 more')
  expect(sayNumbers([1, 3, 4, 5], 2)).toBe('1, 3 to 5')
})

test('sayListed(noun, numbers) and sayCount(count, noun) mind the plural', () => {
  expect([sayListed('tablet', [4]), sayListed('tablet', [4, 5])]).toEqual(['tablet 4', 'tablets 4, 5'])
  expect([sayCount(0, 'pick'), sayCount(1, 'pick'), sayCount(1.25, 'turn')]).toEqual([
    '0 picks',
    '1 pick',
    '1.25 turns',
  ])
})

test('sayPicks(from, to) folds three and more', () => {
  expect([sayPicks(4, 4), sayPicks(4, 5), sayPicks(4, 9)]).toEqual(['pick 4', 'picks 4, 5', 'picks 4 to 9'])
})
