import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { cordsOf } from '../../../shared/draft/picture/cord.ts'
import * as shape from '../../../shared/draft/picture/stitch-shape.ts'
import { colourGrid, weave } from '../../../shared/draft/weave.ts'
import { SLASH } from '../../../shared/draft/woven.ts'
import { arbitraryDraft, draftOf, makeTablet } from '../arbitrary-draft.ts'
import { FOUR_BY_EIGHT, woven } from './sample-draft.ts'

/** One tablet, its cord on the face. */
function faceOf(turns: number[], changes: Parameters<typeof makeTablet>[0] = {}) {
  const { draft, turning } = draftOf(
    [makeTablet(changes)],
    turns.map((turn) => [turn]),
  )
  const { stitches, cords } = cordsOf(draft, weave(draft, turning), 'face', turns.length)
  return Array.from(cords[0]!, (place) => stitches[place]!)
}

describe('cordsOf(draft, woven, side, picks)', () => {
  test('shows in every stitch the colour that the engine says, on both sides', () => {
    fc.assert(
      fc.property(arbitraryDraft, fc.constantFrom('face' as const, 'reverse' as const), ({ draft, turning }, side) => {
        const cloth = weave(draft, turning)
        const { stitches, cords } = cordsOf(draft, cloth, side, turning.picks)
        const upright = side === 'face' ? cords : [...cords].reverse()
        colourGrid(draft, cloth, side).forEach((row, pick) => {
          row.forEach((colour, tablet) => {
            const stitch = stitches[upright[tablet]![pick]!]!
            // Before its first turn a tablet shows nothing; its threads are drawn, but none of them is the one that shows.
            if (cloth[side][pick * cloth.tablets + tablet]! < 0) return
            expect(stitch.threads[stitch.shown]).toBe(colour)
          })
        })
      }),
    )
  })

  test('lays the same thread over a weft in the stitch below it and in the stitch above it', () => {
    fc.assert(
      fc.property(arbitraryDraft, ({ draft, turning }) => {
        const { stitches, cords } = cordsOf(draft, weave(draft, turning), 'face', turning.picks)
        for (const cord of cords) {
          for (let pick = 1; pick < cord.length; pick++) {
            const [lower, upper] = [stitches[cord[pick - 1]!]!, stitches[cord[pick]!]!]
            expect(overWeft(upper, 'below')).toEqual(overWeft(lower, 'above'))
            expect(upper.below).toBe(lower.above)
          }
        }
      }),
    )
  })

  test('leans as the engine says on the face, and alike on the reverse: a twined cord has one twist', () => {
    const cloth = woven(FOUR_BY_EIGHT)
    const face = cordsOf(FOUR_BY_EIGHT, cloth, 'face', 8)
    const reverse = cordsOf(FOUR_BY_EIGHT, cloth, 'reverse', 8)
    for (let tablet = 0; tablet < 4; tablet++) {
      const kinds = Array.from(face.cords[tablet]!, (place) => face.stitches[place]!.kind)
      expect(Array.from(reverse.cords[3 - tablet]!, (place) => reverse.stitches[place]!.kind)).toEqual(kinds)
      kinds.forEach((kind, pick) => {
        const isRising = kind === shape.RISING || kind === shape.RISING_TWICE
        if (kind !== shape.STRAIGHT) expect(isRising).toBe(cloth.slant[pick * 4 + tablet] === SLASH)
      })
    }
  })

  test('of an S tablet rises "/" turned forward and falls "\\" turned back; Z is the mirror', () => {
    expect(faceOf([1, 1, -1, -1]).map(({ kind }) => kind)).toEqual([1, 1, 2, 2])
    expect(faceOf([1, 1, -1, -1], { threading: 'Z' }).map(({ kind }) => kind)).toEqual([2, 2, 1, 1])
  })

  test('bows a float where the cord turns back, and runs it on straight where the tablet idles', () => {
    expect(faceOf([1, 1, -1, -1]).map(({ above }) => above)).toEqual([0, shape.BOWED_RIGHT, 0, shape.BOWED_LEFT])
    expect(faceOf([1, 0, 0, 1]).map(({ above }) => above)).toEqual([3, 3, 3, 0])
  })

  test('goes on with the repeat from where a tablet that does not close has got to', () => {
    const turns = [[1], [1], [1]]
    const { draft, turning } = draftOf([makeTablet()], turns)
    const long = draftOf([makeTablet()], [...turns, ...turns, ...turns])
    const tiled = cordsOf(draft, weave(draft, turning), 'face', 9)
    const whole = cordsOf(long.draft, weave(long.draft, long.turning), 'face', 9)
    const threadsOf = ({ stitches, cords }: typeof tiled) => Array.from(cords[0]!, (place) => stitches[place]!.threads)
    expect(threadsOf(tiled)).toEqual(threadsOf(whole))
  })

  test('refuses a cloth of another draft, and picks that are no whole number above 0', () => {
    const cloth = woven(FOUR_BY_EIGHT)
    const three = { ...FOUR_BY_EIGHT, tablets: FOUR_BY_EIGHT.tablets.slice(1) }
    expect(() => cordsOf(three, cloth, 'face', 8)).toThrow("woven.tablets must be the draft's 3, not 4")
    for (const picks of [0, -1, 1.5, Number.NaN])
      expect(() => cordsOf(FOUR_BY_EIGHT, cloth, 'face', picks)).toThrow(RangeError)
  })
})

/** Left and right thread over the weft below or above a stitch, read off the order in which its threads stand. */
function overWeft({ kind, threads }: ReturnType<typeof faceOf>[number], weft: 'below' | 'above') {
  const [leaves, second] = threads
  const [shows, comes] = [threads.at(-2), threads.at(-1)]
  if (kind === shape.STRAIGHT) return [comes, shows]
  const isRising = kind === shape.RISING || kind === shape.RISING_TWICE
  const [inner, outer] = weft === 'below' ? [second, leaves] : [comes, shows]
  return isRising ? [inner, outer] : [outer, inner]
}
