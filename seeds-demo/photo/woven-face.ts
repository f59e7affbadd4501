import type { Db } from '../../server/db/open.ts'
import { readObservedForm, writeColourLines } from '../../server/observed/form.ts'
import { insertObserved } from '../../server/observed/queries.ts'
import type { ColourKey, Draft } from '../../shared/draft/draft.ts'
import { writeObserved } from '../../shared/draft/infer/observed-text.ts'
import { turningOf, writeTurning } from '../../shared/draft/turning.ts'
import { colourGrid, weave } from '../../shared/draft/weave.ts'
import { STRAIGHT } from '../../shared/observed/band-map.ts'
import { compareWithDraft } from '../../shared/observed/woven-errors.ts'
import { accept } from '../accept.ts'
import { bandCorners, type ClothOptions } from './cloth-picture.ts'

/** A turn that was made the wrong way; both counted from 1. */
export interface WrongTurn {
  readonly pick: number
  readonly tablet: number
}

/** What was seen on a picture, and by whom. */
export interface Seen {
  readonly draft: Draft
  /** Of this draft. */
  readonly revisionId: number
  readonly photoId: number
  readonly wrong: readonly WrongTurn[]
  /** `#rrggbb` of each colour of the draft, as it is read off the picture. */
  readonly hexes: Readonly<Record<ColourKey, string>>
  readonly cloth: ClothOptions
  readonly observedOn: string
  readonly observedBy: string
  readonly note: string
}

/** Picks of the picture before the stretch that is read: its edge is then free of the picture's own. */
const PICKS_BEFORE = 3

/** The draft with some turns made the wrong way, as one soon weaves by mistake. */
export function misweave(draft: Draft, wrong: readonly WrongTurn[]): Draft {
  const turning = turningOf(draft)
  const turns = turning.turns.slice()
  for (const { pick, tablet } of wrong) {
    const at = (pick - 1) * turning.tablets + tablet - 1
    turns[at] = -turns[at]!
  }
  return { ...draft, picks: writeTurning({ ...turning, turns }) }
}

/**
 * One repeat of a face, and where it lies in its picture. Its first pick is the draft's fifth: the picture begins with the
 * second, and some lie before the stretch.
 */
export function wovenFace(draft: Draft, wrong: readonly WrongTurn[], cloth: ClothOptions) {
  const woven = misweave(draft, wrong)
  const grid = colourGrid(woven, weave(woven, turningOf(woven)), cloth.side)
  const size = { tablets: draft.tablets.length, picks: grid.length }
  const cells = grid.map((_row, pick) => grid[(pick + 1 + PICKS_BEFORE) % grid.length]!)
  return { face: { cells }, marks: { ...size, corners: bandCorners(cloth, size, PICKS_BEFORE), bend: STRAIGHT } }
}

/**
 * Keeps one repeat of a piece as it is read off a picture that we drew ourselves, set beside its draft. The reading itself
 * would make the collection slow to load: what it gives is known, and looked at in a test.
 * @throws Error when the form refuses it: then the collection is to be mended
 */
export function writeWovenFace(
  db: Db,
  piece: { readonly id: number; readonly at: string },
  { draft, revisionId, photoId, wrong, hexes, cloth, observedOn, observedBy, note }: Seen,
): void {
  const { face, marks } = wovenFace(draft, wrong, cloth)
  const colours = Object.entries(draft.colours).map(
    ([key, { name }]) => [key, { name, hex: hexes[key] ?? '' }] as const,
  )
  const { width, height } = cloth
  const typed = {
    ...{ colours: writeColourLines(Object.fromEntries(colours)), observed: writeObserved(face) },
    ...{ photo: String(photoId), marks: JSON.stringify({ ...marks, width, height }), revision: String(revisionId) },
    ...{ observedOn, observedBy, note },
  }
  const around = { today: observedOn, photoIds: [photoId], tabletsOf: () => marks.tablets }
  const { value, problems, places } = readObservedForm(typed, around)
  const read = value ? { ok: true as const, value } : { ok: false as const, problems: { ...problems, ...places } }
  const kept = accept('face of a piece', read)
  insertObserved(db, { noun: 'piece', id: piece.id }, kept, compareWithDraft(draft, kept.face), piece.at)
}
