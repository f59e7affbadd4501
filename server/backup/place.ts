import { join } from 'node:path'

/** Below the notebook's folder: one folder a backup, named by its instant. */
export const backupsFolder = (dataDir: string): string => join(dataDir, 'backups')

export const DATABASE = 'fellmark.db'
export const MANIFEST = 'manifest.json'
export const PHOTOS = 'photos'

/** `2026-11-25T001200Z`: sorts by time, and has no sign that a file system refuses. */
export const backupName = (at: Date): string => at.toISOString().slice(0, 19).replaceAll(':', '') + 'Z'

const NAME = /^\d{4}-\d{2}-\d{2}T\d{6}Z(-\d+)?$/

/** Whether this may be a backup's folder; an address that names anything else reaches no file. */
export const isBackupName = (name: string): boolean => NAME.test(name)

const PARTIAL = '.partial-'

/** Half-made things carry the number of their process, so that those whose process is gone can be swept away. */
export const partialName = (name: string): string => `${PARTIAL}${name}-${process.pid}`

/** The number of the process that makes it; undefined for what is no half-made thing. */
export function processOfPartial(name: string): number | undefined {
  const pid = name.startsWith(PARTIAL) ? /-(\d+)$/.exec(name)?.[1] : undefined
  return pid === undefined ? undefined : Number(pid)
}
