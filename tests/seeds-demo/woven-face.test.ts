import { expect, test } from 'vitest'
import { drafts } from '../../seeds-demo/draft/draft.ts'
import { clothPicture } from '../../seeds-demo/photo/cloth-picture.ts'
import { SHOWN } from '../../seeds-demo/photo/load.ts'
import { misweave, wovenFace } from '../../seeds-demo/photo/woven-face.ts'
import { bandMap } from '../../shared/observed/band-map.ts'
import { nameColours } from '../../shared/observed/name-colours.ts'
import { readColours } from '../../shared/observed/read-colours.ts'
import { sampleCells } from '../../shared/observed/sample.ts'
import { toObservedFace } from '../../shared/observed/to-face.ts'
import { compareWithDraft } from '../../shared/observed/woven-errors.ts'

const { draft: key, side, cordPx, woven } = SHOWN.find((shown) => shown.woven)!
const draft = drafts[key]
const cloth = { width: 1000, height: 640, cordPx, pickPx: cordPx, side }

test('wovenFace(draft, wrong, cloth) is what the reader sees in the picture: cells, colours and two woven errors', () => {
  const { wrong, hexes } = woven!
  const { face, marks } = wovenFace(draft, wrong, cloth)
  const { data, width, height } = clothPicture(misweave(draft, wrong), cloth)
  const rgba = Uint8ClampedArray.from({ length: width * height * 4 }, (_, at) =>
    at % 4 === 3 ? 255 : data[Math.floor(at / 4) * 3 + (at % 4)]!,
  )
  const samples = sampleCells({ width, height, data: rgba }, bandMap(marks), marks.tablets, marks.picks)
  const read = readColours(samples, 3)
  const named = nameColours(
    read.colours.map(({ lab }) => lab),
    draft.colours,
  )
  expect(Object.fromEntries(named.map((one, at) => [one.key, read.colours[at]!.hex]))).toEqual(hexes)
  const seen = toObservedFace(
    read,
    named.map((one) => one.key),
    0.9,
  )
  expect(seen).toEqual(face)
  expect(compareWithDraft(draft, seen)).toMatchObject({
    ...{ legible: 37 * 64, shift: 4 },
    differing: [
      { pick: 9, tablet: 23, seen: 'woad', drafted: 'undyed' },
      { pick: 10, tablet: 23, seen: 'woad', drafted: 'undyed' },
    ],
  })
}, 60_000)
