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
export function toDiskRefusal(
  error: Error & { readonly code?: string; readonly syscall?: string },
): HttpError | undefined {
  const { code = '', syscall } = error
  if (['SQLITE_FULL', 'ENOSPC', 'EDQUOT'].includes(code)) return FULL
  // Making a folder with those above it, Node tells that it is not there, and not why.
  if (code === 'ENOENT' && syscall === 'mkdir') return REFUSED
  return /^(EIO|EROFS|SQLITE_(IOERR|CANTOPEN|READONLY)(_.*)?)$/.test(code) ? REFUSED : undefined
}

/** A disk that fails is for the log too; a full one says so on the keeper's page. */
export const isDiskFailing = (refusal: HttpError | undefined): boolean => refusal === REFUSED

/**
 * Writes down what goes beside something else, say when somebody was last here: while the disk refuses, that goes on
 * without.
 */
export function noteIfPossible(write: () => void): void {
  try {
    write()
  } catch (error) {
    if (!(error instanceof Error) || !toDiskRefusal(error)) throw error
  }
}

/**
 * Whether a write that was refused may be there again after a crash: its log was written, and only the flush failed. What
 * its rows point at has to stay then; the next write that is kept makes it certain.
 */
export const mayComeBack = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && String(error.code).startsWith('SQLITE_IOERR')
