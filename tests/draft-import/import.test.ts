import { describe, expect, test } from 'vitest'
import { findNewestRevision } from '../../server/draft/revision-queries.ts'
import { findDraft } from '../../server/draft/queries.ts'
import { writeDraftText } from '../../shared/draft/entry/draft-text.ts'
import { OUR_FRAME } from '../../shared/draft/convention/card.ts'
import { fromFrame } from '../../shared/draft/convention/convert.ts'
import { documentText } from '../../shared/draft/document-text.ts'
import { writeTurnsTable } from '../../shared/draft/table/turns-table.ts'
import { STEP, STEP_DOCUMENT } from '../draft-page/sample.ts'
import { startApp } from '../support/start.ts'
import { keepImported } from './keep.ts'

const csv = (rows: readonly (readonly string[])[], mark = ',') => rows.map((row) => row.join(mark)).join('\r\n')
const rows = (db: ReturnType<typeof startApp>['db']) => db.all(db.sql.selectFrom('draft').select('id'))

describe('POST /drafts/import', () => {
  test.each([
    ['a document', STEP_DOCUMENT],
    ['the text form', writeDraftText(STEP)],
    ['a table of turns', csv(writeTurnsTable(STEP))],
    ['a table with semicolons, as some spreadsheets write it', csv(writeTurnsTable(STEP), ';')],
    ['a table with tabs and a byte order mark', `\ufeff${csv(writeTurnsTable(STEP), '\t')}\r\n\r\n`],
  ])('of %s shows the face and the size first and keeps nothing; then keeps the draft', async (_, document) => {
    const started = startApp()
    const looked = await started.post('/drafts/import', { document })
    expect(looked.status).toBe(200)
    expect(looked.text).toContain('6 tablets, 12 picks. Nothing is kept yet.')
    expect(looked.text).toContain('<svg xmlns="http://www.w3.org/2000/svg"')
    expect(looked.text).toContain('Twist-neutral')
    expect(rows(started.db)).toEqual([])
    const kept = await keepImported(started, { document, written: 'own' })
    expect(kept.headers.location).toBe('/drafts/1?done=saved')
    expect(findNewestRevision(started.db, 1)!.document).toBe(STEP_DOCUMENT)
    expect(findDraft(started.db, 1)!.written).toEqual({ kind: 'own' })
  })

  test('by a convention card says what was converted, and keeps the draft in our frame', async () => {
    const started = startApp()
    const card = { ...OUR_FRAME, end: 'warp', rows: 'upward' } as const
    const answers = Object.fromEntries(Object.entries(card).map(([name, value]) => [`card-${name}`, value]))
    const fields = { document: documentText(fromFrame(STEP, card)), written: 'card', ...answers }
    const looked = await started.post('/drafts/import', fields)
    expect(looked.text).toContain('The picks stand in the opposite order.')
    await keepImported(started, fields)
    expect(findNewestRevision(started.db, 1)!.document).toBe(STEP_DOCUMENT)
  })

  test('of something changed after it was looked at looks again and keeps nothing', async () => {
    const { db, post } = startApp()
    const looked = await post('/drafts/import', { document: STEP_DOCUMENT })
    const key = /name="looked" value="([0-9a-f]{64})"/.exec(looked.text)![1]!
    const changed = { document: documentText({ ...STEP, title: 'Another' }), looked: key, keep: 'yes' }
    const answer = await post('/drafts/import', changed)
    expect(answer.status).toBe(200)
    expect(answer.text).toContain('so nothing is kept yet')
    expect(rows(db)).toEqual([])
    expect((await post('/drafts/import', { document: STEP_DOCUMENT, keep: 'yes' })).status).toBe(200)
    expect(rows(db)).toEqual([])
  })

  test('of a text or table without a title takes that of the form, or asks for one', async () => {
    const started = startApp()
    const document = writeDraftText(STEP).replace(/^title:.*\n/, '')
    const refused = await started.post('/drafts/import', { document })
    expect(refused.status).toBe(422)
    expect(refused.text).toContain('It has no title of its own')
    await keepImported(started, { document, title: 'Reed hem' })
    expect(findDraft(started.db, 1)!.title).toBe('Reed hem')
  })

  test('of turns alone opens the form of a new draft with the picks in it, and keeps nothing', async () => {
    const { db, post } = startApp()
    const answer = await post('/drafts/import', { document: 'F,F,B\nF,2F,i', title: 'Three', written: 'own' })
    expect(answer.status).toBe(200)
    expect(answer.text).toContain('data-draft-edit')
    expect(answer.text).toContain('\n2F 1B\n1F 1(2F) 1I</textarea>')
    expect(answer.text).toMatch(/name="written" value="own" checked/)
    expect(rows(db)).toEqual([])
  })

  test('of face colours hands an observed face on to be worked out, turned into our frame by the card', async () => {
    const { db, post } = startApp()
    const document = 'colour,m,madder,#9c3b2e\npick,1,2,3\n1,m,w,.\n2,w,,m'
    const plain = await post('/drafts/import', { document })
    expect(plain.text).toContain('3 tablets, 2 picks, 2 colours: m, w. 2 cells not legible.')
    expect(plain.text).toContain('action="/drafts/infer"')
    expect(plain.text).toContain('name="observed" value="m w .\nw . m"')
    expect(plain.text).toContain('name="colours" value="m madder #9c3b2e\nw w #8b847a"')
    expect(plain.text).not.toContain('Keep this draft')
    const turned = { document, written: 'card', 'card-count': 'right', 'card-rows': 'upward' }
    expect((await post('/drafts/import', turned)).text).toContain('name="observed" value="m . w\n. w m"')
    expect(rows(db)).toEqual([])
  })

  test.each([
    ['turns', 'F,F\nF,X', 'Row 2, column B', '“X” is no turn'],
    ['', 'F,F\nF,X\nQ', 'Row 2, column B', '“X” is no turn'],
    ['', 'm,w\nm,madder red', 'Row 2, column B', '“madder red” is no colour key'],
    ['turns', 'F,F\nF', 'Row 2', 'Pick 2: 1 tablets found, 2 needed.'],
    ['turns', '1,F,F\n3,F,F', 'Row 2, column A', 'Numbered 3, but it is pick 2.'],
    ['turns', 'knots,1\n1,F', 'Row 1, column A', '“knots” is no pick number and none of the labels'],
    ['turns', 'threading,S,Q\n1,F,F', 'Row 1, column C', '“Q” is not S or Z.'],
    ['turns', 'threading,S,Z\n1,F,F', 'Row 1', 'With a row “threading” stands a row “A”'],
    [
      'turns',
      csv(writeTurnsTable(STEP)).replace('A,m', 'A,q'),
      'Row 7, column B',
      'No colour of the draft has the key “q”.',
    ],
    ['turns', 'colour,m,madder,red\n1,F', 'Row 1, column D', '“red” is no colour'],
    ['face', 'm,w\nm,madder red', 'Row 2, column B', '“madder red” is no colour key'],
    ['face', '.,.\n.,.', 'Row 1', 'No cell of this table is legible.'],
    ['face', `m,"w\n`, 'Row 1', 'A quotation mark is opened and not closed.'],
    ['face', Array.from({ length: 405 }, () => 'm').join(','), 'Row 1', 'At most 402 columns are read.'],
    [
      'text',
      'title: x\ncolours:\nm madder\nthreading:\nS m m m\nturning:\n1F',
      'Line 5, character 8',
      '3 of 4 holes found',
    ],
    [
      'text',
      'weft: q\ncolours: m madder\nthreading:\nS m m m m\nturning:\n1F',
      'Line 1, character 7',
      'No colour has the key “q”.',
    ],
    ['text', 'threading:\nS m m m m', 'Line 2, character 1', '“colours:” and its lines are missing.'],
    ['document', '{"title": ]', 'the whole of it', 'This is not JSON'],
  ])('of %s that reads %j names the place and keeps every word', async (format, document, place, said) => {
    const { db, post } = startApp()
    const answer = await post('/drafts/import', { document, format, title: 'T' })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(`<code>${place}</code>`)
    expect(answer.text).toContain(said.replaceAll('"', '&quot;'))
    if (format !== '') expect(answer.text).toContain(`<option value="${format}" selected>`)
    expect(rows(db)).toEqual([])
  })
})
