import {
  type BandMap,
  bandMap,
  type BandMarks,
  type Bend,
  HANDLES_AT,
  type Shift,
  shiftTo,
  STRAIGHT,
} from '../../../shared/observed/band-map.ts'
import { type Corners, isMirroredView, type Point } from '../../../shared/observed/homography.ts'
import type { HandleSpec } from './handle.ts'
import type { Bars } from './lengths.ts'

/** Everything that was put on the photograph. */
export interface Marking {
  corners: Corners
  bend: Bend
  bars: Bars
}

export const CORNERS = [
  { corner: 'startLeft', name: 'SL', label: 'Corner: start, left' },
  { corner: 'startRight', name: 'SR', label: 'Corner: start, right' },
  { corner: 'endRight', name: 'ER', label: 'Corner: end, right' },
  { corner: 'endLeft', name: 'EL', label: 'Corner: end, left' },
] as const

/** Where everything stands at first: an upright stretch in the middle, and scales beside it. */
export function firstMarking(width: number, height: number): Marking {
  const at = (x: number, y: number): Point => ({ x: x * width, y: y * height })
  return {
    corners: { startLeft: at(0.3, 0.85), startRight: at(0.7, 0.85), endRight: at(0.7, 0.15), endLeft: at(0.3, 0.15) },
    bend: STRAIGHT,
    bars: [
      [at(0.85, 0.75), at(0.85, 0.25)],
      [at(0.3, 0.94), at(0.7, 0.94)],
    ],
  }
}

/** The map from band to picture, or undefined while the marks make none. */
export function mapOf(marks: BandMarks): BandMap | undefined {
  try {
    return bandMap(marks)
  } catch (error) {
    if (error instanceof RangeError) return undefined
    throw error
  }
}

/** A handle for each mark; one that would make the marks impossible stays where it was. */
export function handleSpecs(marking: Marking, marks: () => BandMarks): HandleSpec[] {
  const corners = CORNERS.map(({ corner, name, label }): HandleSpec => ({
    ...{ name, label, kind: 'corner' },
    at: () => marking.corners[corner],
    move: (place) => {
      const moved = { ...marking.corners, [corner]: place }
      if (!mapOf({ ...marks(), corners: moved })) return false
      marking.corners = moved
      return true
    },
  }))
  const bend = HANDLES_AT.map((at, index): HandleSpec => ({
    ...{
      name: `M${index + 1}`,
      label: `Mid-line at ${['a quarter', 'half', 'three quarters'][index]} of the picks`,
      kind: 'bend',
    },
    at: () => mapOf(marks())?.toPicture(0.5, at) ?? { x: 0, y: 0 },
    move: (place) => {
      const shift = shiftTo(marking.corners, index as 0 | 1 | 2, place)
      const moved = marking.bend.map((one, other): Shift => (other === index ? shift : one)) as unknown as Bend
      if (!mapOf({ ...marks(), bend: moved })) return false
      marking.bend = moved
      return true
    },
  }))
  const bars = (['S', 'T'] as const).flatMap((letter, bar) =>
    ([0, 1] as const).map((end): HandleSpec => ({
      ...{ name: `${letter}${end + 1}`, label: `Scale ${letter}, end ${end + 1}`, kind: 'bar' },
      at: () => marking.bars[bar]![end],
      move: (place) => {
        const ends = marking.bars[bar]!.map((one, other) => (other === end ? place : one)) as unknown as [Point, Point]
        marking.bars = bar === 0 ? [ends, marking.bars[1]] : [marking.bars[0], ends]
        return true
      },
    })),
  )
  return [...corners, ...bend, ...bars]
}

export const sayView = (corners: Corners): string =>
  isMirroredView(corners)
    ? 'Marked so, the band is seen as in a mirror: left and right are exchanged. That is right only for a picture that was turned over.'
    : ''
