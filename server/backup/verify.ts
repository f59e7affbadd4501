import { existsSync } from 'node:fs'
import { stat } from 'node:fs/promises'
import { join } from 'node:path'
import { migrations } from '../../migrations/index.ts'
import { checkCopy, CopyRefusal } from './copy-check.ts'
import { hashFile, listFilesBelow } from './disk.ts'
import { readManifest, type Manifest } from './manifest.ts'
import { DATABASE, MANIFEST } from './place.ts'

export type Verdict =
  { readonly ok: true; readonly manifest: Manifest } | { readonly ok: false; readonly problems: readonly string[] }

/** Looks at every byte of a backup, and changes none. */
export async function verifyBackup(folder: string): Promise<Verdict> {
  const no = (...problems: string[]): Verdict => ({ ok: false, problems })
  if (!existsSync(folder)) return no(`There is no folder ${folder}.`)
  const manifest = readManifest(folder)
  if (!manifest) return no(`It has no ${MANIFEST} of Fellmark that can be read, so it is not a backup of ours.`)
  if (manifest.step > migrations.length)
    return no('It was made by a newer Fellmark than this one; start the newer program to restore it.')
  const problems = await compareFiles(folder, manifest)
  if (problems.length > 0) return no(...problems)
  try {
    const facts = checkCopy(join(folder, DATABASE))
    if (facts.step !== manifest.step || !sameCounts(facts.counts, manifest.counts))
      return no('Its database holds something else than its list says.')
  } catch (error) {
    if (!(error instanceof CopyRefusal)) throw error
    return no(error.message)
  }
  return { ok: true, manifest }
}

async function compareFiles(folder: string, { files }: Manifest): Promise<string[]> {
  const problems: string[] = []
  if (!files.some(({ path }) => path === DATABASE)) problems.push('Its list names no database.')
  for (const { path, bytes, sha256 } of files) {
    const full = join(folder, path)
    if (!existsSync(full)) problems.push(`${path} is missing.`)
    else if ((await stat(full)).size !== bytes || (await hashFile(full)) !== sha256)
      problems.push(`${path} is not what it was when the backup was made.`)
  }
  const named = new Set([MANIFEST, ...files.map(({ path }) => path)])
  const strays = (await listFilesBelow(folder)).filter((path) => !named.has(path))
  return [...problems, ...strays.map((path) => `${path} is not on its list.`)]
}

function sameCounts(left: Readonly<Record<string, number>>, right: Readonly<Record<string, number>>): boolean {
  const names = Object.keys(left)
  return names.length === Object.keys(right).length && names.every((name) => left[name] === right[name])
}
