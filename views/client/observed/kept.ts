import { readColourText } from '../../../shared/draft/entry/colour-text.ts'
import type { Colour, ColourKey } from '../../../shared/draft/draft.ts'
import type { ObservedFace } from '../../../shared/draft/infer/observed.ts'
import { readObserved } from '../../../shared/draft/infer/observed-text.ts'
import type { BandMarks } from '../../../shared/observed/band-map.ts'
import type { Corrections } from '../../../shared/observed/to-face.ts'
import { mapOf } from './marking.ts'

/** What the page came with: a kept face that is read again, or a form that is shown again. */
export interface Kept {
  readonly photoId: string
  readonly marks: BandMarks & { readonly width: number; readonly height: number }
  readonly face: ObservedFace
  readonly colours: Readonly<Record<ColourKey, Colour>>
}

/** Undefined where there are no marks or they and the cells do not go together. */
export function keptOf(form: HTMLFormElement): Kept | undefined {
  const value = (selector: string) => form.querySelector<HTMLInputElement | HTMLTextAreaElement>(selector)?.value ?? ''
  const photoId = value('[data-photo-field]')
  const marks = readMarks(value('[data-marks]'))
  const { colours, problems } = readColourText(value('textarea[name="colours"]'))
  const read = readObserved(value('textarea[name="observed"]'), colours)
  if (photoId === '' || !marks || problems.length > 0 || !read.ok) return undefined
  const { cells } = read.observed
  if (cells.length !== marks.picks || cells[0]?.length !== marks.tablets) return undefined
  return { photoId, marks, colours, face: read.observed }
}

/** The server has looked at their shape where it shows a kept face; a form that is shown again may hold anything. */
function readMarks(text: string): Kept['marks'] | undefined {
  try {
    const marks = JSON.parse(text) as Kept['marks']
    return marks.width > 0 && marks.height > 0 && mapOf(marks) ? marks : undefined
  } catch {
    return undefined
  }
}

/** Marks in the pixels of a picture that may be worked on in another size than before. */
export function marksIn({ marks }: Kept, width: number, height: number): Pick<BandMarks, 'corners' | 'bend'> {
  const { startLeft, startRight, endRight, endLeft } = marks.corners
  const scaled = ({ x, y }: { x: number; y: number }) => ({
    x: (x * width) / marks.width,
    y: (y * height) / marks.height,
  })
  return {
    corners: {
      ...{ startLeft: scaled(startLeft), startRight: scaled(startRight) },
      ...{ endRight: scaled(endRight), endLeft: scaled(endLeft) },
    },
    bend: marks.bend,
  }
}

/** Cells that are kept otherwise than they are read now: somebody set them, or another certainty was asked for. */
export function correctionsFrom({ face }: Kept, read: ObservedFace): Corrections {
  const corrections = new Map<number, ColourKey | null>()
  face.cells.forEach((row, pick) =>
    row.forEach((key, tablet) => {
      if (key !== read.cells[pick]![tablet]) corrections.set(pick * row.length + tablet, key)
    }),
  )
  return corrections
}
