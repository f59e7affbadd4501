import { describe, expect, test } from 'vitest'
import { guessed, rangeOf } from '../../shared/work/hours-ahead.ts'
import { GUESSES, newPieceAhead, type OwnPiece } from '../../shared/work/new-piece.ts'
import { expectWithin, readReference } from '../measure/reference.ts'
import { normals } from './chance.ts'

const band = { tablets: 20, picksPerRepeat: 40, repeats: 10, load: 6 }
const piece = (name: string, weave: number, more: Partial<OwnPiece> = {}): OwnPiece => ({
  ...{ ...band, name, minutes: { weave }, exponent: null },
  ...more,
})
const stageOf = (own: readonly OwnPiece[], stage: string, typed = {}) =>
  newPieceAhead(band, own, typed).stages.find((each) => each.stage === stage)

describe('newPieceAhead(band, own, typed)', () => {
  test('guesses all eight stages where nothing is finished, by pick and by tablet where work goes by them', () => {
    const { stages, learning } = newPieceAhead(band, [], {})
    expect(stages.map(({ by }) => by)).toEqual(Array(8).fill('guess'))
    expect(stageOf([], 'weave')?.ahead.minutes).toBe(400 * GUESSES.weave)
    expect(stageOf([], 'thread')?.ahead.minutes).toBe(20 * GUESSES.thread)
    expect(learning).toEqual({ exponent: 0, n: 0 })
  })

  test('goes by one piece with the width of a guess, and by several with their own', () => {
    expect(stageOf([piece('First', 800)], 'weave')).toMatchObject({
      by: 'one',
      n: 1,
      pieces: ['First'],
      ahead: { df: Infinity },
    })
    const two = stageOf([piece('First', 800), piece('Second', 800 * Math.E ** 0.2)], 'weave')
    expect(two).toMatchObject({ by: 'mean', n: 2 })
    expectWithin(two?.ahead.minutes, 800 * Math.E ** 0.1, 1e-12)
    // s of 0 and 0.2 is 0.1414; one more of a kind scatters by sqrt(1 + 1/2) of it.
    expectWithin(two?.ahead.u, 0.2 * Math.sqrt(0.5) * Math.sqrt(1.5), 1e-12)
  })

  test('counts picks, so that half the repeats take half as long where nothing is learnt', () => {
    expectWithin(stageOf([piece('Long', 800, { repeats: 20 })], 'weave')?.ahead.minutes, 400, 1e-12)
  })

  test('takes learning off each piece and puts it on again', () => {
    const b = -0.3
    const sum = (repeats: number) =>
      Array.from({ length: repeats }, (_, at) => (at + 1) ** b).reduce((all, one) => all + one)
    const own = [4, 9].map((repeats) => piece(`of ${repeats}`, 60 * sum(repeats), { repeats, exponent: b }))
    const ahead = newPieceAhead(band, own, {})
    expect(ahead.learning).toEqual({ exponent: b, n: 2 })
    expectWithin(ahead.stages.find(({ stage }) => stage === 'weave')?.ahead.minutes, 60 * sum(10), 1e-12)
  })

  test('prefers three pieces of like load to others, and draws a line through five', () => {
    const own = [5, 6, 7].map((load) => piece(`load ${load}`, 800, { load }))
    const other = piece('very different', 8000, { load: 30 })
    expect(stageOf([...own, other], 'weave')).toMatchObject({ by: 'alike', n: 3 })
    const line = stageOf([...own, other, piece('another', 700, { load: 4 })], 'weave')
    expect(line).toMatchObject({ by: 'line', n: 5, ahead: { df: 3 } })
  })

  test('finds a planted line: minutes that grow with the root of the load', () => {
    const own = [2, 3, 5, 8, 12].map((load) => piece(`load ${load}`, 300 * Math.sqrt(load), { load }))
    expectWithin(stageOf(own, 'weave')?.ahead.minutes, 300 * Math.sqrt(6), 1e-9)
  })

  test('takes what is typed before what was found', () => {
    expect(stageOf([piece('First', 800)], 'weave', { weave: 333 })).toMatchObject({
      by: 'typed',
      ahead: { minutes: 333 },
    })
  })

  test('gives the interval of Montgomery and Runger, Example 11-6, where their points are own pieces', () => {
    const { x, y } = readReference<{ x: string[]; y: string[] }>('measure/reference/prediction-interval.json')
    const unit = { tablets: 1, picksPerRepeat: 1, repeats: 1, exponent: null }
    const own = x.map((each, at) => ({
      ...{ ...unit, name: String(at), load: Math.exp(Number(each)) },
      minutes: { weave: Math.exp(Number(y[at])) },
    }))
    const { ahead } = newPieceAhead({ ...unit, load: Math.exp(1) }, own, {}).stages[5] ?? { ahead: guessed(0) }
    const { low, high } = rangeOf(ahead, 0.95)
    expectWithin(Math.log(low), 86.82968702, 1e-9)
    expectWithin(Math.log(high), 91.63190093, 1e-9)
  })

  // 2 standard errors of 2000 trials are 1.8 %.
  test.each([
    ['mean of three', 3],
    ['line of six', 6],
  ])('holds 80 %% of planted pieces: %s', (_name, n) => {
    const normal = normals(4711)
    const minutesOf = (load: number) => 300 * (n < 5 ? 1 : load ** 0.6) * Math.exp(0.25 * normal())
    const loads = [4, 5, 6, 7, 8, 9].slice(0, n)
    let held = 0
    for (let trial = 0; trial < 2000; trial += 1) {
      const own = loads.map((load) => piece(String(load), minutesOf(load), { load }))
      const { low, high } = rangeOf(stageOf(own, 'weave')?.ahead ?? guessed(0))
      const actual = minutesOf(band.load)
      if (actual >= low && actual <= high) held += 1
    }
    expect(held / 2000).toBeGreaterThan(0.77)
    expect(held / 2000).toBeLessThan(0.83)
  })
})
