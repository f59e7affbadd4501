import { createHash } from 'node:crypto'
import type { Draft } from '../../shared/draft/draft.ts'
import { boundPicks, isFine } from '../../shared/draft/entry/bound.ts'
import type { DrawableDraft } from '../../shared/draft/entry/draft-entry.ts'
import { sayCount } from '../../shared/draft/number-words.ts'
import { threadingPicture } from '../../shared/draft/picture/threading-picture.ts'
import { twistTrace } from '../../shared/draft/picture/twist-trace.ts'
import { wovenFace } from '../../shared/draft/picture/woven-face.ts'
import { weave } from '../../shared/draft/weave.ts'
import { drawnPicks, type PictureSize } from './size.ts'

export const PICTURE_KINDS = ['face', 'reverse', 'threading', 'twist'] as const
export type PictureKind = (typeof PICTURE_KINDS)[number]

/** Upright as it stands on the loom, pick 1 at the foot; or lying across a page, pick 1 at the left. */
export type Lie = 'up' | 'across'

/**
 * One picture of a draft as SVG that stands by itself, in mm.
 * @param size of face and reverse; the other two have their own
 * @param idPrefix begins every id in it, so that it may also stand inside a page
 */
export function drawPicture(
  kind: PictureKind,
  drawable: DrawableDraft,
  size: PictureSize,
  { lie = 'up', idPrefix = 'p' }: { readonly lie?: Lie; readonly idPrefix?: string } = {},
): string {
  const { draft, turning } = drawable
  if (kind === 'threading') return threadingPicture(draft, { idPrefix })
  if (kind === 'twist') return drawTwist(drawable)
  const { picks: picksShown } = drawnPicks(size, turning.tablets)
  const { tabletWidthMm, pickHeightMm } = size
  return wovenFace(draft, weave(draft, turning), {
    ...{ side: kind, tabletWidthMm, pickHeightMm, picksShown, lie, idPrefix },
    detail: isFine(picksShown * turning.tablets) ? 'high' : 'low',
    title: sayBand(kind, draft, picksShown),
  })
}

/** A page's height at most, however long the repeat. */
const TALLEST_TWIST_MM = 180
const USUAL_PICK_MM = 1.2

function drawTwist(drawable: DrawableDraft): string {
  const { draft, turning } = boundPicks(drawable)
  return twistTrace(draft, turning, { pickMm: Math.min(USUAL_PICK_MM, TALLEST_TWIST_MM / turning.picks) })
}

/**
 * What a picture of the band shows, in one line, for those who do not see it.
 * @example sayBand('face', draft, 216) // 'Woven face of Stepped fret, 24 tablets, 216 picks'
 */
export function sayBand(side: 'face' | 'reverse', { title, tablets }: Draft, picks: number): string {
  const of = title === '' ? '' : ` of ${title}`
  return `Woven ${side}${of}, ${sayCount(tablets.length, 'tablet')}, ${sayCount(picks, 'pick')}`
}

/** Changes whenever the revision says something else or a picture of it is drawn differently. */
export function pictureVersion(document: string): string {
  return createHash('sha256').update(drawingVersion()).update(document).digest('hex').slice(0, 12)
}

let drawn: string | undefined

/** The pictures of one small draft, hashed: nobody has to think of a number when the drawing gets better. */
function drawingVersion(): string {
  if (drawn !== undefined) return drawn
  const turns = Int8Array.of(1, 1, 1, -1, 1, -1, -1, 0, 2, -2)
  const turning = { tablets: 2, picks: 5, turns }
  const colours = { a: { name: 'a', hex: '#112233' }, b: { name: 'b', hex: '#ddccbb' } }
  const tablet = { start: 'A', part: 'pattern', holes: ['a', 'a', 'b', null] } as const
  const tablets = [{ ...tablet, threading: 'S' } as const, { ...tablet, threading: 'Z' } as const]
  const draft: Draft = {
    title: '',
    colours,
    weft: 'a',
    tablets,
    picks: ['2F', '1F 1B', '1F 1B', '1B 1I', '1(2F) 1(2B)'],
  }
  const size = { tabletWidthMm: 1, pickHeightMm: 1, lengthMm: 9 }
  const pictures = PICTURE_KINDS.map((kind) => drawPicture(kind, { draft, turning }, size))
  return (drawn = createHash('sha256').update(pictures.join('')).digest('hex'))
}
