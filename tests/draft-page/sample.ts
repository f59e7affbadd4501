import type { Draft } from '../../shared/draft/draft.ts'
import { documentText } from '../../shared/draft/document-text.ts'
import { insertDraft } from '../../server/draft/queries.ts'
import type { Db } from '../../server/db/open.ts'
import { NOW } from '../support/start.ts'

/** Six tablets, twelve picks, our own: two borders and a step. */
export const STEP: Draft = {
  title: 'Step for a hem',
  colours: { m: { name: 'madder', hex: '#9c3b2e' }, w: { name: 'undyed', hex: '#e9dfc8' } },
  weft: 'm',
  tablets: [
    { threading: 'S', holes: ['m', 'm', 'm', 'm'], start: 'A', part: 'border' },
    { threading: 'S', holes: ['m', 'm', 'w', 'w'], start: 'A', part: 'pattern' },
    { threading: 'S', holes: ['m', 'm', 'w', 'w'], start: 'B', part: 'pattern' },
    { threading: 'Z', holes: ['m', 'm', 'w', 'w'], start: 'B', part: 'pattern' },
    { threading: 'Z', holes: ['m', 'm', 'w', 'w'], start: 'A', part: 'pattern' },
    { threading: 'Z', holes: ['m', 'm', 'm', 'm'], start: 'A', part: 'border' },
  ],
  picks: ['6F', '6F', '6F', '6F', '1F 4B 1F', '1F 4B 1F', '6B', '6B', '6B', '6B', '1B 4F 1B', '1B 4F 1B'],
}

/** The same as the words of the form. */
export const STEP_TYPED = {
  title: 'Step for a hem',
  colours: 'm madder #9c3b2e\nw undyed #e9dfc8',
  weft: 'm',
  threading: 'S m m m m border\nS m m w w\nS m m w w from B\nmirror',
  turning: '6F x4\n1F 4B 1F x2\n6B x4\n1B 4F 1B x2',
  notes: '',
  original: '',
  note: '',
}

export const STEP_DOCUMENT = documentText(STEP)

export function makeDraft(db: Db, changes: Partial<Draft> = {}): { id: number; revisionId: number } {
  const draft = { ...STEP, ...changes }
  return insertDraft(db, { draft, notes: '', originalId: undefined }, NOW.toISOString())
}

export function makeOriginal(db: Db, name: string): number {
  const blank = { other_names: '', holder: '', inventory_number: '', find_place: '', find_context: '', date_edtf: '' }
  const at = NOW.toISOString()
  const rest = { technique: '', preservation: '', notes: '', created_at: at, updated_at: at }
  return db.run(db.sql.insertInto('original').values({ name, ...blank, ...rest })).id
}

export function makePiece(db: Db, name: string, revisionId: number): number {
  const at = NOW.toISOString()
  const blank = { maker: '', for_whom: '', set_aside_reason: '', notes: '', went_wrong: '' }
  const values = { name, draft_revision_id: revisionId, ...blank, created_at: at, updated_at: at }
  return db.run(db.sql.insertInto('piece').values(values)).id
}
