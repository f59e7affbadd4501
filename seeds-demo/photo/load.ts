import { randomBytes } from 'node:crypto'
import { mkdir } from 'node:fs/promises'
import { join } from 'node:path'
import sharp from 'sharp'
import type { Db } from '../../server/db/open.ts'
import { readPhotoForm } from '../../server/photo/form.ts'
import { readImage } from '../../server/photo/image.ts'
import { stagingFolder } from '../../server/photo/place.ts'
import { insertPhoto } from '../../server/photo/queries.ts'
import { storePhoto } from '../../server/photo/store.ts'
import { accept } from '../accept.ts'
import { drafts, type DraftKey } from '../draft/draft.ts'
import { scenario } from '../scenario.ts'
import { clothPicture, type ClothOptions } from './cloth-picture.ts'
import { misweave, type Seen, writeWovenFace } from './woven-face.ts'

interface Notebook {
  readonly db: Db
  readonly dataDir: string
}

interface Shown {
  readonly draft: DraftKey
  readonly side: ClothOptions['side']
  readonly cordPx: number
  /** A piece that was woven otherwise than drafted, and read off this picture. */
  readonly woven?: Pick<Seen, 'wrong' | 'hexes' | 'observedOn' | 'note'>
}

export const SHOWN: readonly Shown[] = [
  { draft: 'fret', side: 'face', cordPx: 16 },
  { draft: 'fret', side: 'reverse', cordPx: 30 },
  { draft: 'meander', side: 'face', cordPx: 14 },
  {
    ...{ draft: 'meander', side: 'face', cordPx: 14 },
    woven: {
      // What the piece says went wrong: tablet 23 shows blue for two picks in the white path.
      wrong: [
        { pick: 13, tablet: 23 },
        { pick: 15, tablet: 23 },
      ],
      hexes: { woad: '#29415a', undyed: '#beb5a3', madder: '#7f3025' },
      ...{ note: 'The sixth repeat, washed', observedOn: '2026-07-04' },
    },
  },
]

/**
 * Gives some finished pieces of the demo collection a picture each, of our own drawing: they go the way of every photograph
 * that is sent, and are made at the instant of their piece, like all of the collection.
 */
export async function loadDemoPhotos({ db, dataDir }: Notebook): Promise<void> {
  for (const shown of SHOWN) {
    const piece = findPieceOf(db, shown.draft)
    if (piece) await addPicture({ db, dataDir }, piece, shown)
  }
}

async function addPicture(
  { db, dataDir }: Notebook,
  piece: { readonly id: number; readonly at: string; readonly revisionId: number | null; readonly maker: string },
  { draft, side, cordPx, woven }: Shown,
): Promise<void> {
  const sent = join(stagingFolder(dataDir), `demo-${randomBytes(16).toString('hex')}`)
  await mkdir(stagingFolder(dataDir), { recursive: true })
  // A whole repeat is to be in the picture where it is read.
  const cloth = { width: 1000, height: 640, cordPx, pickPx: cordPx * (woven ? 1 : 1.15), side }
  const picture = clothPicture(woven ? misweave(drafts[draft], woven.wrong) : drafts[draft], cloth)
  const raw = { width: picture.width, height: picture.height, channels: 3 as const }
  await sharp(picture.data, { raw }).jpeg({ quality: 88 }).toFile(sent)
  const read = await readImage(sent)
  if (!read.ok) throw new Error(`the picture of ${draft} is refused: ${read.refusal.message}`)
  const words = {
    caption: woven
      ? `${woven.note}, with its woven error: drawn by the program, not a photograph`
      : `The ${side} as its draft weaves it: drawn by the program, not a photograph`,
    part: side,
    credit: 'Fellmark, for its demo collection',
    licence: 'CC0-1.0',
    takenOn: '',
  }
  const form = accept(`picture of ${draft}`, readPhotoForm(words, piece.at.slice(0, 10)))
  const photoId = await storePhoto({ dataDir, sent, image: read.image }, (stored) =>
    insertPhoto(db, { noun: 'piece', id: piece.id }, form, stored, piece.at),
  )
  const { revisionId, maker } = piece
  if (!woven || revisionId === null) return
  writeWovenFace(db, piece, { ...woven, draft: drafts[draft], observedBy: maker, revisionId, photoId, cloth })
}

/** The first finished piece of this draft; undefined where it is gone or is the maker's own by now. */
function findPieceOf(
  db: Db,
  draft: DraftKey,
): { id: number; at: string; revisionId: number | null; maker: string } | undefined {
  const told = scenario.pieces.find((piece) => piece.draft === draft && piece.finishedOn)
  if (!told) return undefined
  const { name } = told
  return db.first(
    db.sql
      .selectFrom('piece')
      .select(['id', 'created_at as at', 'draft_revision_id as revisionId', 'maker'])
      .where('demo', '=', 1)
      .where('name', '=', name)
      .where('deleted_at', 'is', null)
      .orderBy('id'),
  )
}
