import { mkdirSync, mkdtempSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { openNotebook } from '../../server/db/notebook.ts'
import { NotebookRefusal } from '../../server/db/open.ts'
import { migratedDb } from '../support/start.ts'

let folder: string
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

describe('openNotebook(folder)', () => {
  test('makes folder and file', () => {
    const db = openNotebook(join(folder, 'a/b'))
    expect(db.raw.name).toBe(join(folder, 'a/b/fellmark.db'))
    db.close()
  })

  test('says in one sentence that a file stands where the folder should be', () => {
    const file = join(folder, 'letter.txt')
    writeFileSync(file, 'Dear colleague')
    expect(sentenceOf(() => openNotebook(file))).toBe(`DATA_DIR is "${file}", where no folder can be made (EEXIST).`)
    expect(sentenceOf(() => openNotebook(join(file, 'data')))).toContain('where no folder can be made (ENOTDIR).')
  })

  test('says in one sentence that the file cannot be opened', () => {
    mkdirSync(join(folder, 'fellmark.db'))
    expect(sentenceOf(() => openNotebook(folder))).toBe(
      `${join(folder, 'fellmark.db')} cannot be opened: look whether DATA_DIR may be written to.`,
    )
  })

  test('says in one sentence that the file is damaged', () => {
    const file = join(folder, 'fellmark.db')
    migratedDb(file).close()
    truncateSync(file, 8192)
    expect(sentenceOf(() => openNotebook(folder))).toContain(`${file} is damaged`)
  })
})
