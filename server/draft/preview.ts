import { boundPicks, shownPicks } from '../../shared/draft/entry/bound.ts'
import { type ReadDraftEntry } from '../../shared/draft/entry/draft-entry.ts'
import { sayEntry, sayLeftOut } from '../../shared/draft/entry/say-entry.ts'
import { weave } from '../../shared/draft/weave.ts'
import { type Html, toHtml } from '../pages.ts'
import { type CheckLine, listCheckLines } from '../../shared/draft/entry/check-line.ts'
import { drawPicture } from './picture.ts'
import { DEFAULT_PICK_HEIGHT_MM, DEFAULT_TABLET_WIDTH_MM, USUAL_SIZE } from './size.ts'

/** The picture beside the form, drawn by the server; with script the browser draws it anew at every key. */
export interface PreviewView {
  readonly face: Html | ''
  readonly summary: string
  readonly leftOut: string
  readonly checks: readonly CheckLine[]
}

/**
 * What the form's draft weaves: one repeat of the face, and the checks when all of it can be read.
 * @param read undefined while nothing was typed yet
 */
export function previewOf(read: ReadDraftEntry | undefined): PreviewView {
  if (!read) return { face: '', summary: '', leftOut: '', checks: [] }
  const drawable = read.ok ? read : read.begun
  const summary = sayEntry(read)
  if (!drawable) return { face: '', summary, leftOut: '', checks: [] }
  const drawn = boundPicks(drawable)
  const picks = shownPicks(drawn, read.ok, DEFAULT_PICK_HEIGHT_MM / DEFAULT_TABLET_WIDTH_MM)
  const size = { ...USUAL_SIZE, lengthMm: picks * DEFAULT_PICK_HEIGHT_MM }
  return {
    face: toHtml(drawPicture('face', drawn, size, { idPrefix: 'live' })),
    summary,
    leftOut: sayLeftOut(drawable),
    checks: read.ok ? listCheckLines(read.draft, read.turning, weave(read.draft, read.turning)) : [],
  }
}
