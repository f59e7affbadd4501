import { describe, expect, test } from 'vitest'
import { makeOriginal } from '../support/make.ts'
import { makePiece } from '../support/make-piece.ts'
import { startGuild } from '../support/guild.ts'
import { startApp, type Started } from '../support/start.ts'
import { TYPED } from '../sitting/sample.ts'
import { DRAFT } from '../faults/template.ts'

const onceOf = (html: string): string => /name="once" value="([\w-]{16})"/.exec(html)?.[1] ?? 'none'

const count = ({ db }: Pick<Started, 'db'>, table: string) =>
  db.raw.prepare<[], number>(`select count(*) from ${table}`).pluck().get()!

const CLAIM = { feature: 'width', kind: 'value', value: '13.0', unit: 'mm', state: 'offTension', basis: 'seen' }

/** Each form that makes something: where it is, where it goes, what it makes. */
const FORMS: readonly (readonly [form: string, to: string, table: string, fields: Record<string, string>])[] = [
  ['/sources/new', '/sources', 'source', { title: 'Letter', kind: 'letter' }],
  ['/originals/new', '/originals', 'original', { name: 'Fen band' }],
  ['/pieces/new', '/pieces', 'piece', { name: 'Second try' }],
  ['/drafts/new', '/drafts', 'draft', { ...DRAFT, title: 'Fret' }],
  ['/drafts/new/bench', '/drafts/new/bench', 'draft', { title: 'Begun', tablets: '8', picks: '4' }],
  ['/pieces/1/sittings/new', '/pieces/1/sittings', 'sitting', TYPED],
  ['/originals/1/claims/new?feature=width', '/originals/1/claims', 'claim', CLAIM],
  ['/features/new', '/features', 'feature', { label: 'Knots', kind: 'text' }],
]

describe('a form that makes something', () => {
  test.each(FORMS)(
    'GET %s, sent twice to %s, makes one %s and leads to it both times',
    async (form, to, table, fields) => {
      const started = startApp()
      makeOriginal(started.db)
      makePiece(started.db)
      const before = count(started, table)
      const once = onceOf((await started.get(form)).text)
      const first = await started.post(to, { ...fields, once })
      expect([first.status, first.text]).toEqual([303, expect.any(String)])
      const second = await started.post(to, { ...fields, once })
      expect([second.status, second.headers.location]).toEqual([303, first.headers.location])
      expect(count(started, table) - before).toBe(1)
      expect(started.broken).toEqual([])
    },
  )

  test('ten times at once makes one', async () => {
    const started = startApp()
    const once = onceOf((await started.get('/sources/new')).text)
    const fields = { title: 'Letter', kind: 'letter', once }
    const answers = await Promise.all(Array.from({ length: 10 }, () => started.post('/sources', fields)))
    expect(new Set(answers.map(({ status, headers }) => `${status} ${headers.location}`))).toEqual(
      new Set(['303 /sources/1?done=saved']),
    )
    expect(count(started, 'source')).toBe(1)
  })

  test('that books yarn books it once', async () => {
    const started = startApp()
    await started.post('/yarns', { name: 'Tow linen' })
    await started.post('/yarns/1/lots', { colourName: 'undyed' })
    const before = count(started, 'movement')
    const once = onceOf((await started.get('/lots/1?do=bought')).text)
    const fields = { kind: 'bought', grams: '100', day: '2026-11-20', once }
    const answers = [await started.post('/lots/1/movements', fields), await started.post('/lots/1/movements', fields)]
    expect(answers.map(({ status }) => status)).toEqual([303, 303])
    expect(count(started, 'movement') - before).toBe(1)
  })

  test('with a word changed is another one: by going back one can add the next', async () => {
    const started = startApp()
    const once = onceOf((await started.get('/sources/new')).text)
    await started.post('/sources', { title: 'Letter', kind: 'letter', once })
    await started.post('/sources', { title: 'Letter of May', kind: 'letter', once })
    expect(count(started, 'source')).toBe(2)
  })

  test('that came back with a problem is sent again as often as it takes', async () => {
    const started = startApp()
    const back = await started.post('/sources', { title: '', kind: 'letter', once: 'a'.repeat(16) })
    expect((await started.post('/sources', { title: '', kind: 'letter', once: 'a'.repeat(16) })).status).toBe(422)
    const once = onceOf(back.text)
    expect((await started.post('/sources', { title: 'Letter', kind: 'letter', once })).status).toBe(303)
  })

  test('is one of its sender alone', async () => {
    const guild = startGuild()
    await guild.person('oda', 'member')
    await guild.person('runa', 'member')
    const fields = { title: 'Letter', kind: 'letter', once: 'b'.repeat(16) }
    const [oda, runa] = [await guild.signedIn('oda'), await guild.signedIn('runa')]
    const answers = [await oda.post('/sources', fields), await runa.post('/sources', fields)]
    expect(answers.map(({ headers }) => headers.location as string)).toEqual([
      '/sources/1?done=saved',
      '/sources/2?done=saved',
    ])
  })

  test('that changes something, sent twice, is saved and no conflict with itself', async () => {
    const started = startApp()
    await started.post('/sources', { title: 'Letter', kind: 'letter' })
    const once = onceOf((await started.get('/sources/1/edit')).text)
    const fields = { title: 'Letter of May', kind: 'letter', version: '1', once }
    const answers = [await started.post('/sources/1', fields), await started.post('/sources/1', fields)]
    expect(answers.map(({ status }) => status)).toEqual([303, 303])
  })
})
