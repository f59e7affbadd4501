import { readFileSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { z } from 'zod'
import { MANIFEST } from './place.ts'

/** Why a backup was made. */
export type BackupReason = 'scheduled' | 'asked' | 'before-restore'

const manifestShape = z.object({
  format: z.literal('fellmark-backup'),
  formatVersion: z.literal(1),
  at: z.iso.datetime(),
  reason: z.enum(['scheduled', 'asked', 'before-restore']),
  /** Versions that made it: of the structure (the number of its last step), and of SQLite. */
  step: z.number().int().min(1),
  sqlite: z.string(),
  /** Rows of each table. */
  counts: z.record(z.string(), z.number().int().min(0)),
  files: z.array(
    z.object({
      // Nothing that leads out of the folder: what a manifest names is read, and put into the notebook.
      path: z.string().regex(/^(?:fellmark\.db|photos(?:\/[A-Za-z0-9_][A-Za-z0-9_.-]*)+)$/),
      bytes: z.number().int().min(0),
      sha256: z.string().regex(/^[0-9a-f]{64}$/),
    }),
  ),
})
export type Manifest = z.infer<typeof manifestShape>

const MOST_BYTES = 64 * 1024 * 1024

/** Of the backup in this folder; undefined when there is none that can be read. */
export function readManifest(folder: string): Manifest | undefined {
  try {
    const file = join(folder, MANIFEST)
    if (statSync(file).size > MOST_BYTES) return undefined
    return manifestShape.safeParse(JSON.parse(readFileSync(file, 'utf8'))).data
  } catch {
    return undefined
  }
}

export const bytesOf = ({ files }: Manifest): number => files.reduce((sum, file) => sum + file.bytes, 0)

export const photosOf = ({ files }: Manifest): number => files.filter((file) => file.path !== 'fellmark.db').length
