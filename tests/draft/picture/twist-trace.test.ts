import { describe, expect, test } from 'vitest'
import { lanesOf } from '../../../shared/draft/picture/twist-lane.ts'
import { twistTrace } from '../../../shared/draft/picture/twist-trace.ts'
import { turningOf } from '../../../shared/draft/turning.ts'
import { draftOf, makeTablet } from '../arbitrary-draft.ts'
import { listElements, listSvgFaults, readSvg } from './read-svg.ts'
import { FOUR_BY_EIGHT, lozenges } from './sample-draft.ts'

describe('lanesOf(draft, turning)', () => {
  test('bundles neighbours that turn alike, but not a border with the pattern', () => {
    const border = makeTablet({ part: 'border' })
    const { draft, turning } = draftOf(
      [border, makeTablet(), makeTablet(), makeTablet()],
      [
        [1, 1, 1, -1],
        [1, 1, 1, 0],
      ],
    )
    expect(lanesOf(draft, turning).map(({ from, to, part }) => [from, to, part])).toEqual([
      [1, 1, 'border'],
      [2, 3, 'pattern'],
      [4, 4, 'pattern'],
    ])
  })

  test('follows the twist: runs, net, and how far it went either way', () => {
    const { draft, turning } = draftOf([makeTablet()], [[1], [1], [-2], [-2], [0], [1]])
    expect(lanesOf(draft, turning)[0]).toMatchObject({
      runs: [
        { turn: 1, picks: 2 },
        { turn: -2, picks: 2 },
        { turn: 0, picks: 1 },
        { turn: 1, picks: 1 },
      ],
      net: -1,
      least: -2,
      most: 2,
    })
  })

  test('refuses a turning of another number of tablets', () => {
    expect(() => lanesOf(lozenges(6, 4), turningOf(lozenges(5, 4)))).toThrow("must be the draft's 6, not 5")
  })
})

describe('twistTrace(draft, turning, options)', () => {
  const trace = (options = {}) => twistTrace(FOUR_BY_EIGHT, turningOf(FOUR_BY_EIGHT), options)

  test('draws four tablets and eight picks as in the snapshot', async () => {
    expect(listSvgFaults(trace(), 'p')).toEqual([])
    await expect(trace().replaceAll('><', '>\n<') + '\n').toMatchFileSnapshot('snapshots/four-by-eight-twist.svg')
  })

  test('goes right for a turn forward and left for one back, and writes the net at the head', () => {
    const { draft, turning } = draftOf([makeTablet()], [[1], [1], [1], [-1]])
    const svg = twistTrace(draft, turning, { pickMm: 2, quarterMm: 1 })
    expect(svg).toContain('l3 -6l-1 -2')
    expect(listElements(readSvg(svg)).some(({ text }) => text === '+2')).toBe(true)
  })

  test('keeps within the width asked for when twist builds up', () => {
    const { draft, turning } = draftOf(
      [makeTablet()],
      Array.from({ length: 400 }, () => [1]),
    )
    expect(
      Number.parseFloat(readSvg(twistTrace(draft, turning, { widthMm: 100 })).attributes.width!),
    ).toBeLessThanOrEqual(100)
  })

  test('tells border from pattern without colour', () => {
    const broken = listElements(readSvg(trace())).filter(({ attributes }) => 'stroke-dasharray' in attributes)
    expect(broken).toHaveLength(2)
  })

  test('refuses sizes that are not above zero, no colours, and colours that are no hex', () => {
    expect(() => trace({ pickMm: 0 })).toThrow('pickMm must be more than zero, not 0')
    expect(() => trace({ colours: [] })).toThrow('colours must hold at least one')
    expect(() => trace({ colours: ['red'] })).toThrow(RangeError)
  })
})
