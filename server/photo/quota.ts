import type { Db } from '../db/open.ts'
import { findStanding } from '../rights/standing.ts'
import { sumPhotoBytes, type PhotoSubject } from './queries.ts'

/** How much room photographs may take, as they are kept: web sizes and the files as they were sent, bin included. */
export const MEMBER_BYTES = 5 * 1024 ** 3
export const NOTEBOOK_BYTES = 100 * 1024 ** 3

/**
 * Why a photograph of this size does not fit any more; undefined when it does. It counts for whoever owns the original or
 * the piece, not for whoever sends it, since it is with the owner that it stays.
 */
export function findQuotaProblem(db: Db, subject: PhotoSubject, bytes: number): string | undefined {
  const ownerId = findStanding(db, subject.noun, subject.id)?.ownerId ?? null
  const { all, owned } = sumPhotoBytes(db, ownerId)
  if (ownerId !== null && owned + bytes > MEMBER_BYTES)
    return `The photographs of this owner take ${inGigabytes(owned)} of the 5 GB that each member has. Delete some and empty the bin, or ask the keeper.`
  if (all + bytes > NOTEBOOK_BYTES)
    return `All photographs of this notebook take ${inGigabytes(all)} of the 100 GB there are for them. Please tell the keeper.`
  return undefined
}

const inGigabytes = (bytes: number) => `${(bytes / 1024 ** 3).toFixed(2)} GB`
