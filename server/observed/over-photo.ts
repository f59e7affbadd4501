import { photoOutline } from '../../shared/observed/photo-outline.ts'
import type { PictureView } from '../photo/view.ts'
import { marksShape } from './form.ts'
import type { Observed } from './queries.ts'

/** The photograph with lines over it, drawn in the coordinates of the picture that was marked. */
export interface OverPhotoView {
  readonly src: string
  /** Of the picture that was marked, in its pixels. */
  readonly width: number
  readonly height: number
  readonly viewBox: string
  /** As it is shown, in CSS pixels: wide enough for a cell to be read. */
  readonly shownWidth: number
  readonly shownHeight: number
  readonly stretch: string
  readonly cells: string
  readonly label: string
}

/** A cell is shown this large, in CSS pixels, unless the photograph becomes wider than the most. */
const READABLE_CELL = 16
const MOST_WIDE = 4000
/** Woven errors outlined; a face that differs in more is another band. */
const MOST_OUTLINED = 4000

/** Undefined where the face was not read off this photograph by marks. */
export function overPhotoView(observed: Observed, picture: PictureView): OverPhotoView | undefined {
  if (observed.marks === '' || picture.isMissing) return undefined
  const marks = marksShape.parse(JSON.parse(observed.marks))
  const differing = (observed.comparison?.differing ?? []).slice(0, MOST_OUTLINED)
  const { stretch, cells, cellPx } = photoOutline(marks, differing)
  const { width, height } = marks
  const shownWidth = Math.round(Math.min(MOST_WIDE, (width * READABLE_CELL) / cellPx))
  return {
    src: picture.sources.at(-1)?.path ?? picture.src,
    ...{ width, height, viewBox: `0 0 ${width} ${height}`, stretch, cells },
    ...{ shownWidth, shownHeight: Math.round((shownWidth * height) / width) },
    label: cells === '' ? 'The stretch that was read' : 'The stretch that was read, with woven errors outlined',
  }
}
