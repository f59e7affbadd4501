import type { Draft } from '../../shared/draft/draft.ts'
import type { Db } from '../../server/db/open.ts'
import { insertDraft } from '../../server/draft/queries.ts'

const AT = '2026-11-24T12:00:00.000Z'

const FRET: Draft = {
  title: 'Small steps',
  colours: { m: { name: 'madder', hex: '#9c3b2e' }, w: { name: 'undyed', hex: '#e9dfc8' } },
  weft: 'm',
  tablets: [
    { threading: 'S', holes: ['m', 'm', 'w', 'w'], start: 'A', part: 'border' },
    { threading: 'Z', holes: ['m', 'w', 'w', 'm'], start: 'A', part: 'pattern' },
  ],
  picks: ['2F', '1F 1B', '1B 1F', '2B'],
}

/** A draft of two tablets with the colours m and w. */
export const makeDraft = (db: Db) => insertDraft(db, { notes: '', originalId: undefined, draft: FRET }, AT)

export function makeOriginal(db: Db): number {
  const words = { other_names: '', holder: '', inventory_number: '', find_place: '', find_context: '', date_edtf: '' }
  const texts = { name: 'Band of the tarn', technique: '', preservation: '', notes: '', created_at: AT, updated_at: AT }
  return db.run(db.sql.insertInto('original').values({ ...words, ...texts, earliest_year: null, latest_year: null })).id
}

/** A piece as it is typed. */
export const TYPED = {
  ...{ name: 'Ferry belt', maker: 'Runa', forWhom: 'the ferry house', original: '', revision: '' },
  ...{ plannedOn: '2026-01-05', onLoomOn: '2026-02-01', wovenOn: '', finishedOn: '', setAsideOn: '' },
  ...{ setAsideReason: '', notes: 'A *tight* warp.', wentWrong: '' },
}
