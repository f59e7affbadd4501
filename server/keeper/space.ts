import { existsSync, statfsSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { listPhotoFiles } from '../photo/check.ts'
import { DATABASE } from '../backup/place.ts'

export interface Space {
  readonly freeBytes: number
  readonly totalBytes: number
  /** Of the whole disk, 0 to 1. */
  readonly freeShare: number
}

/** What somebody without special rights may still write on the disk of this folder. */
export function readSpace(folder: string): Space {
  const { bavail, blocks, bsize } = statfsSync(folder)
  return { freeBytes: bavail * bsize, totalBytes: blocks * bsize, freeShare: blocks === 0 ? 0 : bavail / blocks }
}

/** Below it a keeper is warned. */
export const WARN_FREE_SHARE = 0.1
/** Below it the notebook is not well. */
export const LEAST_FREE_SHARE = 0.05

/** Of the database with its log, and of the photographs. */
export function readSizes(dataDir: string): { databaseBytes: number; photoBytes: number; photoFiles: number } {
  const files = [DATABASE, `${DATABASE}-wal`].map((name) => join(dataDir, name)).filter((path) => existsSync(path))
  const photos = listPhotoFiles(dataDir)
  return {
    databaseBytes: files.reduce((sum, path) => sum + statSync(path).size, 0),
    photoBytes: photos.reduce((sum, { bytes }) => sum + bytes, 0),
    photoFiles: photos.length,
  }
}

const UNITS = ['kB', 'MB', 'GB', 'TB'] as const

/** `643 kB`, `1.2 GB`: in steps of 1000, as disks are sold. */
export function sayBytes(bytes: number): string {
  if (bytes < 1000) return `${bytes} B`
  let value = bytes
  let unit = -1
  while (value >= 999.5 && unit < UNITS.length - 1) {
    value /= 1000
    unit += 1
  }
  return `${value.toFixed(value < 9.95 ? 1 : 0)} ${UNITS[unit]}`
}
