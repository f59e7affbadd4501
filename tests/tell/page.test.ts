import { describe, expect, test } from 'vitest'
import { readVoices } from '../../shared/draft/tell/memory-voice.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { makeDraft, STEP } from '../draft-page/sample.ts'
import { startApp } from '../support/start.ts'

const PATH = '/drafts/1/revisions/1/tell'
/** What a reader reads: no tags, blanks folded, the marks that a template escapes put back. */
const wordsOf = (html: string) =>
  html
    .replace(/<[^>]+>/g, ' ')
    .replaceAll('&#x3D;', '=')
    .replace(/\s+/g, ' ')

describe('GET /drafts/:id/revisions/:number/tell', () => {
  test('tells a neutral, symmetric draft in words, and its spoken form reads back into its turning', async () => {
    const { db, get } = startApp()
    makeDraft(db)
    const answer = await get(PATH)
    expect(answer.status).toBe(200)
    const text = wordsOf(answer.text)
    expect(text).toContain('What “Step for a hem” tells')
    expect(text).toContain('Neutral: no repeat leaves twist in the bare warp.')
    expect(text).not.toContain('What would take it out')
    expect(text).toContain('Threading mirrored, every one of 3 pairs of tablets')
    expect(text).toContain('The turning, turned the other way, is itself again 6 picks on.')
    expect(text).toContain('4 different picks in 12; 4 of them come more than once.')
    // By hand, 6F x4, 1F 4B 1F x2, 6B x4, 1B 4F 1B x2: at pick 5 the middle four, at 7 the outer two, at 11 the four, at 1 the two.
    expect(text).toContain('Tablets that change direction 1 a pick')
    const spoken = /<p class="tell-spoken"[^>]*>([^<]*)</.exec(answer.text)![1]!
    expect(readVoices(spoken, STEP)).toEqual({ ok: true, turning: turningOf(STEP) })
    expect(answer.text).toContain('<svg xmlns="http://www.w3.org/2000/svg"')
  })

  test('offers what would take twist out, and says honestly that the face does not stay the same', async () => {
    const { db, get } = startApp()
    makeDraft(db, { picks: ['6F', '6F', '6F', '6F'] })
    const text = wordsOf((await get(PATH)).text)
    expect(text).toContain('Each repeat leaves twist behind in 6 tablets of 6.')
    expect(text).toContain('Turn the other way: tablets 1 to 6 at picks 3, 4. Every repeat is then neutral.')
    expect(text).toMatch(/the face does not stay the same\. \d+ of 24 cells in one repeat change colour/)
    expect(text).toContain('in every second repeat')
  })

  test('names floats over the limit that the address gives', async () => {
    const { db, get } = startApp()
    makeDraft(db)
    expect(wordsOf((await get(PATH)).text)).toContain('floats over more than 3 picks')
    const two = await get(`${PATH}?float=2`)
    expect(wordsOf(two.text)).toMatch(/\d+ floats are longer than 2 picks in a repeat/)
    expect(two.text).toContain('Floats over the limit')
  })

  test.each([
    ['float=0', 'Please type a whole number from 1 to 99.', 'value="0"'],
    ['over=many', 'Please type a whole number from 1 to 99.', 'value="many"'],
  ])('with ?%s keeps what was typed, says what is wrong, and still tells the rest', async (query, sentence, typed) => {
    const { db, get } = startApp()
    makeDraft(db)
    const answer = await get(`${PATH}?${query}`)
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(sentence)
    expect(answer.text).toContain(typed)
    expect(answer.text).toContain('To be remembered')
  })

  test('with a glide stated of an odd number of picks says why that cannot be', async () => {
    const { db, get } = startApp()
    makeDraft(db, { picks: ['6F', '6B', '6F'] })
    const answer = await get(`${PATH}?face=glide`)
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('Half a repeat needs an even number of picks; this one has 3.')
  })

  test('finds a planted misprint by what the author says', async () => {
    const { db, get } = startApp()
    makeDraft(db, { picks: STEP.picks.with(6, '1B 1F 4B') })
    const text = wordsOf((await get(`${PATH}?neutral=yes&turning=yes&threading=yes`)).text)
    expect(text).toContain('It is not twist-neutral: 1 tablet is left twisted.')
    expect(text).toContain('Pick 7, tablet 2: back, not forward twist-neutral, turned alike (3 of 3 true)')
    const good = wordsOf((await get(`${PATH}?neutral=yes`)).text)
    expect(good).toContain('of a single cell make')
  })

  test('says that what is stated is true, where it is', async () => {
    const { db, get } = startApp()
    makeDraft(db)
    const text = wordsOf((await get(`${PATH}?neutral=yes&closes=yes&over=4`)).text)
    expect(text).toContain('All 3 things stated are true of this draft.')
  })

  test('of a draft with more turns than are told of on a page says so', async () => {
    const { db, get } = startApp()
    makeDraft(db, { picks: Array.from({ length: 20_000 }, () => '6F').concat() })
    expect((await get(PATH)).text).toContain('To be remembered')
    const wide = Array.from({ length: 20 }, () => STEP.tablets).flat()
    makeDraft(db, { tablets: wide, picks: Array.from({ length: 1700 }, () => '120F') })
    const { text, status } = await get('/drafts/2/revisions/1/tell')
    expect(status).toBe(200)
    expect(text).toContain('204000 turns (120 tablets by 1700 picks) are more than the 200000')
  })

  test('is linked from the page of the revision', async () => {
    const { db, get } = startApp()
    makeDraft(db)
    expect((await get('/drafts/1')).text).toContain(`href="${PATH}"`)
  })

  test.each(['/drafts/7/revisions/1/tell', '/drafts/1/revisions/7/tell', '/drafts/1/revisions/x/tell'])(
    '%s is not there',
    async (path) => {
      const { db, get } = startApp()
      makeDraft(db)
      expect((await get(path)).status).toBe(404)
    },
  )

  test('escapes a title that looks like markup', async () => {
    const { db, get } = startApp()
    makeDraft(db, { title: '<img src=x onerror=alert(1)>' })
    expect((await get(PATH)).text).not.toContain('<img src=x')
  })
})
