import { HttpError } from './errors.ts'

const FULL = new HttpError(
  507,
  'There is no room left on the disk, so what you sent was not kept. Everything saved before is untouched. Once the keeper has made room, try again.',
)
const REFUSED = new HttpError(
  503,
  'The disk refused to read or to write, so what you sent was not kept. Everything saved before is untouched. Please try again; if it stays so, tell the keeper: the disk may be failing.',
)

/** The error is neither the sender's nor ours; both SQLite and the file system have their words for it. */
export function toDiskRefusal(error: Error & { readonly code?: string }): HttpError | undefined {
  const { code = '' } = error
  if (['SQLITE_FULL', 'ENOSPC', 'EDQUOT'].includes(code)) return FULL
  return /^(EIO|EROFS|SQLITE_(IOERR|CANTOPEN|READONLY)(_.*)?)$/.test(code) ? REFUSED : undefined
}

/** A disk that fails is for the log too; a full one says so on the keeper's page. */
export const isDiskFailing = (refusal: HttpError | undefined): boolean => refusal === REFUSED

/** Writes down what somebody who only reads leaves behind: while the disk refuses, reading goes on without. */
export function noteIfPossible(write: () => void): void {
  try {
    write()
  } catch (error) {
    if (!(error instanceof Error) || !toDiskRefusal(error)) throw error
  }
}
