import { describe, expect, test } from 'vitest'
import { STRAIGHT } from '../../shared/observed/band-map.ts'
import { photoOutline } from '../../shared/observed/photo-outline.ts'

const at = (x: number, y: number) => ({ x, y })
const marks = {
  // Two tablets of 50 pixels, four picks of 25, pick 1 lowest.
  corners: { startLeft: at(0, 100), startRight: at(100, 100), endRight: at(100, 0), endLeft: at(0, 0) },
  ...{ bend: STRAIGHT, tablets: 2, picks: 4 },
}

describe('photoOutline', () => {
  test('frames a cell where it lies, a little outside it', () => {
    const { cells, cellPx, stretch } = photoOutline(marks, [{ pick: 2, tablet: 2 }])
    expect(cells).toBe('M46 77L104 77L104 48L46 48z')
    expect(cellPx).toBe(25)
    expect(stretch).toMatch(/^M0 100L.*z$/)
  })

  test('leaves out what lies outside the marks', () => {
    expect(photoOutline(marks, [{ pick: 5, tablet: 1 }]).cells).toBe('')
  })
})
