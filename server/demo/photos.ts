import type { Db } from '../db/open.ts'
import { listNamesOf, type PhotoFiles } from '../photo/place.ts'
import { deletePhotoFiles } from '../photo/store.ts'

/** The photographs of things of the demo collection. */
export function listDemoPhotos(db: Db): PhotoFiles[] {
  return db.all(
    db.sql
      .selectFrom('photo')
      .leftJoin('original', 'original.id', 'photo.original_id')
      .leftJoin('piece', 'piece.id', 'photo.piece_id')
      .select(['photo.file', 'photo.width', 'photo.height'])
      .where((e) => e.or([e('original.demo', '=', 1), e('piece.demo', '=', 1)])),
  )
}

/** Takes the files away of those whose rows went with the collection. */
export async function deleteGonePhotos(db: Db, dataDir: string, photos: readonly PhotoFiles[]): Promise<void> {
  for (const photo of photos) {
    const row = db.first(db.sql.selectFrom('photo').select('id').where('file', '=', photo.file))
    if (!row) await deletePhotoFiles(dataDir, listNamesOf(photo))
  }
}
