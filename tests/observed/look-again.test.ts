import { expect, test } from 'vitest'
import { hexOfLab, type Lab } from '../../shared/colour/lab.ts'
import { lookAgain } from '../../shared/observed/look-again.ts'
import type { ReadColours } from '../../shared/observed/read-colours.ts'

const [TABLETS, PICKS] = [10, 40]
const WHITE: Lab = [88, 1, 8]
const RED: Lab = [40, 42, 28]
const SOIL: Lab = [28, 5, 7]

/** Two threads, and a third colour at the cells asked for. */
function readOf(third: Lab, isThird: (pick: number, tablet: number) => boolean): ReadColours {
  const labels = new Int8Array(TABLETS * PICKS)
  labels.forEach((_, cell) => {
    const [pick, tablet] = [Math.floor(cell / TABLETS), cell % TABLETS]
    labels[cell] = isThird(pick, tablet) ? 2 : pick % 4 < 2 ? 0 : 1
  })
  const colours = [WHITE, RED, third].map((lab, at) => ({
    ...{ lab, hex: hexOfLab(lab) },
    cells: labels.filter((label) => label === at).length,
  }))
  const confidence = new Float64Array(labels.length).fill(0.99)
  return { tablets: TABLETS, picks: PICKS, colours, labels, confidence, lightRatio: 1 }
}
const scattered = (pick: number, tablet: number) => (pick * 7 + tablet * 3) % 40 === 0
const KEYS = ['w', 'r', 'k']

test('lookAgain(read, keys) doubts a few dark cells scattered over the tablets, and says why and what lies nearest', () => {
  const [white, red, soil] = lookAgain(readOf(SOIL, scattered), KEYS)
  expect([white, red]).toEqual([undefined, undefined])
  expect(soil).toEqual({
    ...{ cells: 10, legible: 400, tablets: 10, mostOfTablet: 0.025, isDark: true },
    nearest: 1,
  })
})

test.each<[string, ReadColours, readonly (string | null)[]]>([
  ['a bright colour', readOf([70, 5, 60], scattered), KEYS],
  ['a dark thread in one hole of one tablet', readOf(SOIL, (pick, tablet) => tablet === 3 && pick % 4 === 0), KEYS],
  ['a dark thread in one hole of some', readOf(SOIL, (pick, tablet) => tablet < 3 && pick % 6 === 0), KEYS],
  ['what counts as no thread already', readOf(SOIL, scattered), ['w', 'r', null]],
  ['the only thread', readOf(SOIL, scattered), [null, null, 'k']],
  ['a colour that no cell surely has', readOf(SOIL, () => false), KEYS],
])('lookAgain(read, keys) lets %s be', (_what, read, keys) => {
  expect(lookAgain(read, keys)[2]).toBeUndefined()
})

test('lookAgain(read, keys) refuses another number of keys than of colours', () => {
  expect(() => lookAgain(readOf(SOIL, scattered), ['w'])).toThrow(RangeError)
})
