import { existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { bytesOf, photosOf, readManifest, type Manifest } from './manifest.ts'
import { backupsFolder, isBackupName } from './place.ts'

export interface KeptBackup {
  readonly name: string
  readonly folder: string
  readonly at: Date
  readonly reason: Manifest['reason']
  readonly bytes: number
  readonly photos: number
  readonly counts: Manifest['counts']
}

/**
 * The backups in a folder, the newest first. Each was looked at wholly before it got its name, and that is what makes it
 * good; whether it still is, `verifyBackup` says.
 */
export function listBackups(dataDir: string): KeptBackup[] {
  const parent = backupsFolder(dataDir)
  if (!existsSync(parent)) return []
  const names = readdirSync(parent, { withFileTypes: true })
    .filter((entry) => entry.isDirectory() && isBackupName(entry.name))
    .map((entry) => entry.name)
  return names
    .flatMap((name): KeptBackup[] => {
      const folder = join(parent, name)
      const manifest = readManifest(folder)
      if (!manifest) return []
      const { reason, counts } = manifest
      const at = new Date(manifest.at)
      return [{ name, folder, at, reason, counts, bytes: bytesOf(manifest), photos: photosOf(manifest) }]
    })
    .sort((left, right) => right.at.getTime() - left.at.getTime() || (right.name < left.name ? -1 : 1))
}
