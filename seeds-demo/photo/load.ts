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

interface Notebook {
  readonly db: Db
  readonly dataDir: string
}

interface Shown {
  readonly draft: DraftKey
  readonly side: ClothOptions['side']
  readonly cordPx: number
}

const SHOWN: readonly Shown[] = [
  { draft: 'fret', side: 'face', cordPx: 16 },
  { draft: 'fret', side: 'reverse', cordPx: 30 },
  { draft: 'meander', side: 'face', cordPx: 14 },
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
  piece: { readonly id: number; readonly at: string },
  { draft, side, cordPx }: Shown,
): Promise<void> {
  const sent = join(stagingFolder(dataDir), `demo-${randomBytes(16).toString('hex')}`)
  await mkdir(stagingFolder(dataDir), { recursive: true })
  const picture = clothPicture(drafts[draft], { width: 1000, height: 640, cordPx, pickPx: cordPx * 1.15, side })
  const raw = { width: picture.width, height: picture.height, channels: 3 as const }
  await sharp(picture.data, { raw }).jpeg({ quality: 88 }).toFile(sent)
  const read = await readImage(sent)
  if (!read.ok) throw new Error(`the picture of ${draft} is refused: ${read.refusal.message}`)
  const words = {
    caption: `The ${side} as its draft weaves it: drawn by the program, not a photograph`,
    part: side,
    credit: 'Fellmark, for its demo collection',
    licence: 'CC0-1.0',
    takenOn: '',
  }
  const form = accept(`picture of ${draft}`, readPhotoForm(words, piece.at.slice(0, 10)))
  await storePhoto({ dataDir, sent, image: read.image }, (stored) =>
    insertPhoto(db, { noun: 'piece', id: piece.id }, form, stored, piece.at),
  )
}

/** The first finished piece of this draft; undefined where it is gone or is the maker's own by now. */
function findPieceOf(db: Db, draft: DraftKey): { id: number; at: string } | undefined {
  const told = scenario.pieces.find((piece) => piece.draft === draft && piece.finishedOn)
  if (!told) return undefined
  const { name } = told
  return db.first(
    db.sql
      .selectFrom('piece')
      .select(['id', 'created_at as at'])
      .where('demo', '=', 1)
      .where('name', '=', name)
      .where('deleted_at', 'is', null)
      .orderBy('id'),
  )
}
