import type { Db } from '../db/open.ts'
import { HttpError } from '../errors.ts'
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

/**
 * Asked inside of the transaction that has written photographs already, once for each thing that they belong to.
 * @throws HttpError 413 with what is too much; the transaction is taken back
 */
export function requireRoom(db: Db, subjects: Iterable<PhotoSubject>): void {
  const asked = new Set<number | null>()
  for (const subject of subjects) {
    const ownerId = findStanding(db, subject.noun, subject.id)?.ownerId ?? null
    if (asked.has(ownerId)) continue
    asked.add(ownerId)
    const full = findQuotaProblem(db, subject, 0)
    if (full !== undefined)
      throw new HttpError(
        413,
        `Nothing was brought in: with the photographs of this archive there are too many. ${full}`,
      )
  }
}

const inGigabytes = (bytes: number) => `${(bytes / 1024 ** 3).toFixed(2)} GB`
