/** What a person is told of a backup or a restore that failed; the whole error goes to the log. */
export function sayFailure(error: unknown): string {
  const { code } = error as NodeJS.ErrnoException
  if (code === 'ENOSPC' || code === 'SQLITE_FULL' || code === 'EDQUOT') return 'The disk is full.'
  if (
    code === 'EROFS' ||
    code === 'EACCES' ||
    code === 'EPERM' ||
    code === 'SQLITE_CANTOPEN' ||
    code === 'SQLITE_READONLY'
  )
    return 'The folder cannot be written to.'
  if (code?.startsWith('SQLITE_BUSY')) return 'The notebook was in use by another program.'
  if (code === 'SQLITE_CORRUPT') return 'The notebook itself is damaged; look at “Check now”.'
  if (code?.startsWith('EIO') || code?.startsWith('SQLITE_IOERR') || code === 'EFBIG')
    return 'The disk refused to write or read.'
  // What the system calls it is for the log: it may say that a folder is missing where the disk was full.
  if (error instanceof Error && 'syscall' in error) return 'The disk refused to write or read.'
  return error instanceof Error ? error.message : String(error)
}
