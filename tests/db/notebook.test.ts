import { mkdirSync, mkdtempSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { makeFolder, openFile } from '../../server/db/notebook.ts'
import { NotebookRefusal } from '../../server/db/open.ts'
import { migratedDb } from '../support/start.ts'

let folder: string
const openIn = (dataDir: string) => {
  makeFolder(dataDir)
  return openFile(join(dataDir, 'fellmark.db'))
}

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'fellmark-notebook-'))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

function sentenceOf(work: () => unknown): string {
  try {
    work()
  } catch (error) {
    expect(error).toBeInstanceOf(NotebookRefusal)
    return (error as Error).message
  }
  return 'nothing was refused'
}

describe('makeFolder(folder), openFile(file)', () => {
  test('makes folder and file', () => {
    const db = openIn(join(folder, 'a/b'))
    expect(db.raw.name).toBe(join(folder, 'a/b/fellmark.db'))
    db.close()
  })

  test('says in one sentence that a file stands where the folder should be', () => {
    const file = join(folder, 'letter.txt')
    writeFileSync(file, 'Dear colleague')
    expect(sentenceOf(() => openIn(file))).toBe(`DATA_DIR is "${file}", where no folder can be made (EEXIST).`)
    expect(sentenceOf(() => openIn(join(file, 'data')))).toContain('where no folder can be made (ENOTDIR).')
  })

  test('says in one sentence that the file cannot be opened', () => {
    mkdirSync(join(folder, 'fellmark.db'))
    expect(sentenceOf(() => openIn(folder))).toBe(
      `${join(folder, 'fellmark.db')} cannot be opened: look whether DATA_DIR may be written to.`,
    )
  })

  test('says in one sentence that the file is damaged', () => {
    const file = join(folder, 'fellmark.db')
    migratedDb(file).close()
    truncateSync(file, 8192)
    expect(sentenceOf(() => openIn(folder))).toContain(`${file} is damaged`)
  })
})
