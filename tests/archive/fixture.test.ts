import { describe, expect, test } from 'vitest'
import { importFrom } from './archive-file.ts'
import { dump } from '../demo/dump.ts'
import { makeDataDir, migratedDb } from '../support/start.ts'

const FIXTURE = new URL('fixtures/v1-demo.zip', import.meta.url).pathname

// An archive of every version that was given out is kept here and comes in for ever.
describe('the archive of version 1', () => {
  test('comes in whole', async () => {
    const db = migratedDb()
    const { counts, remarks } = await importFrom(db, makeDataDir(), FIXTURE)
    expect(counts).toMatchObject({ same: 0, left: 0 })
    expect(remarks).toEqual([])
    const rows = dump(db)
    const of = (table: string) => rows[table]?.length
    expect({
      ...{ source: of('source'), original: of('original'), draft: of('draft'), draft_revision: of('draft_revision') },
      ...{ piece: of('piece'), piece_yarn: of('piece_yarn'), claim: of('claim'), sitting: of('sitting') },
    }).toEqual(COUNTS)
  })
})

const COUNTS = {
  ...{ source: 9, original: 5, draft: 5, draft_revision: 6, piece: 8, piece_yarn: 33, claim: 168, sitting: 75 },
}
