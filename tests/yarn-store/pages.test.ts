import { describe, expect, test } from 'vitest'
import { listMovements } from '../../server/yarn/ledger-queries.ts'
import { findLot, findYarn, listLots, listYarns } from '../../server/yarn/queries.ts'
import { makePiece } from '../support/make-piece.ts'
import { startApp } from '../support/start.ts'
import { makeLot, makeYarn, move } from './make-yarn.ts'

const YARN = { name: 'Fen wool', blend: 'wool 80, silk 20', count: 'Nm 28/2', build: 'z2s' }
const LOT = { colourName: 'madder red', colourHex: '9C3B2E', dye: 'madder', priceFor: '' }

describe('POST /yarns', () => {
  test('keeps the yarn, its count as typed and its build as it is written here', async () => {
    const { db, get, post } = startApp()
    const answer = await post('/yarns', YARN)
    expect(answer.headers.location).toBe('/yarns/1?done=saved')
    expect(findYarn(db, 1)).toMatchObject({ count: 'Nm 28/2', build: 'Z2S', blend: 'wool 80, silk 20' })
    const shown = (await get('/yarns/1')).text
    expect(shown).toContain('80 % wool, 20 % silk')
    expect(shown).toContain('35.7 tex x 2')
    expect(shown).toContain('Regulation (EU) No 1007/2011')
  })

  test.each([
    ['name', '', 'Please give the yarn a name'],
    ['blend', 'wool 80, silk 15', 'Together the shares are 95 %, not 100. Is a fibre missing'],
    ['blend', 'wool 80, silk', 'How many percent are silk?'],
    ['count', 'Nm fine', 'This is not a count'],
    ['build', '2Z', 'Write the spin first'],
    ['wrapsPerCm', '0', 'above 0'],
  ])('with %s “%s” asks about it beside the field, and loses no word', async (field, typed, sentence) => {
    const { db, post } = startApp()
    const answer = await post('/yarns', { ...YARN, notes: 'kept <b>', [field]: typed })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(sentence)
    expect(answer.text).toContain(`href="#f-${field}"`)
    expect(answer.text).toContain('kept &lt;b&gt;')
    expect(listYarns(db)).toEqual([])
  })

  test('asks which reading is meant where customs differ, and takes the one chosen', async () => {
    const { db, post } = startApp()
    const asked = await post('/yarns', { ...YARN, count: '20/2 wool' })
    expect(asked.status).toBe(422)
    expect(asked.text).toContain('which one is meant?')
    expect(asked.text).toContain('value="NeW 20 2 single"')
    await post('/yarns', { ...YARN, count: '20/2 wool', countReading: 'NeW 20 2 single' })
    expect(findYarn(db, 1)?.reading).toMatchObject({ system: 'NeW', value: 20, ply: 2 })
    expect((await post('/yarns', { ...YARN, count: '20/2 wool', countReading: 'Nm 1 1 whole' })).status).toBe(422)
  })
})

describe('POST /yarns/:id/lots', () => {
  test('keeps the lot with its price in minor units', async () => {
    const { db, post, get } = startApp()
    makeYarn(db)
    const paid = { price: '12,5', priceCurrency: 'eur', priceFor: '100g' }
    expect((await post('/yarns/1/lots', { ...LOT, ...paid })).headers.location).toBe('/lots/1?done=saved')
    expect(findLot(db, 1)).toMatchObject({ colourHex: '#9c3b2e', price: { minor: 1250, currency: 'EUR', for: '100g' } })
    const shown = (await get('/lots/1')).text
    expect(shown).toContain('12.50 EUR for 100 g')
    expect(shown).toContain('fill="#9c3b2e"')
    expect(shown).toContain('Where the safety data sheet says otherwise, it decides.')
  })

  test.each([
    [{ colourName: ' ' }, 'Please name the colour'],
    [{ colourHex: 'red' }, 'Write # and six'],
    [{ colourLab: '120 0 0' }, 'L from 0 to 100'],
    [{ dyedOn: '2026-11-25' }, 'This day has not come yet'],
    [{ price: '12.505', priceCurrency: 'EUR', priceFor: 'kg' }, 'EUR has 2 figures behind the point'],
    [{ price: '12' }, 'Which currency?'],
    [{ price: '12', priceCurrency: 'EUR' }, 'What is the price for'],
  ])('with %j says what is wrong', async (typed, sentence) => {
    const { db, post } = startApp()
    makeYarn(db)
    const answer = await post('/yarns/1/lots', { ...LOT, recipe: 'one\ntwo', ...typed })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(sentence)
    expect(answer.text).toContain('one\ntwo')
  })
})

describe('POST /lots/:id/movements', () => {
  const started = () => {
    const { db, ...rest } = startApp()
    return { ...rest, db, lot: makeLot(db), piece: makePiece(db) }
  }

  test('enters what was bought; the page shows the sum and the running balance', async () => {
    const { get, post, lot } = started()
    expect((await post(`/lots/${lot}/movements`, { kind: 'bought', grams: '250' })).headers.location).toBe(
      `/lots/${lot}?done=entered#ledger`,
    )
    await post(`/lots/${lot}/movements`, { kind: 'sample', grams: '2,5', day: '2026-11-20' })
    const shown = (await get(`/lots/${lot}`)).text
    expect(shown).toContain('<dd>247.5 g</dd>')
    expect(shown).toContain('>-2.5<')
  })

  test('of a stock-take keeps both figures', async () => {
    const { db, get, post, lot } = started()
    move(db, lot, 'bought', 100_000)
    await post(`/lots/${lot}/movements`, { kind: 'stocktake', grams: '97.4' })
    expect(listMovements(db, lot)[1]).toMatchObject({ massMg: -2600, expectedMg: 100_000, foundMg: 97_400 })
    expect((await get(`/lots/${lot}`)).text).toContain('found 97.4 g, the ledger said 100 g')
  })

  test('dyed from one lot into another is an entry in each', async () => {
    const { db, post, lot } = started()
    const other = makeLot(db, undefined, { colourName: 'weld' })
    move(db, lot, 'bought', 100_000)
    await post(`/lots/${lot}/movements`, { kind: 'dyed', grams: '40', otherLot: String(other), gramsAfter: '41.5' })
    expect(listMovements(db, lot)[1]).toMatchObject({ kind: 'dyed', massMg: -40_000, otherLotId: other })
    expect(listMovements(db, other)).toMatchObject([{ kind: 'dyed', massMg: 41_500, otherLotId: lot }])
  })

  test('asks before the ledger says less than nothing, and keeps that it was asked', async () => {
    const { db, post, lot, piece } = started()
    move(db, lot, 'bought', 10_000)
    const typed = { kind: 'used', grams: '12', piece: String(piece), note: 'all of it' }
    const asked = await post(`/lots/${lot}/movements`, typed)
    expect(asked.status).toBe(422)
    expect(asked.text).toContain('2 g more would be gone than there are')
    expect(asked.text).toContain('all of it</textarea>')
    expect(findLot(db, lot)?.onHandMg).toBe(10_000)
    await post(`/lots/${lot}/movements`, { ...typed, accept: 'yes' })
    expect(listMovements(db, lot)[1]).toMatchObject({ acceptedBelow: true, massMg: -12_000 })
  })

  test.each([
    [{ kind: 'used', grams: '' }, 'How many grams?'],
    [{ kind: 'used', grams: '1e3' }, 'Please type grams'],
    [{ kind: 'lost', grams: '0' }, 'more than 0 g'],
    [{ kind: 'reserved', grams: '1' }, 'For which piece'],
    [{ kind: 'reserved', grams: '1', piece: '77' }, 'This piece is not in the notebook'],
    [{ kind: 'dyed', grams: '1' }, 'Which lot did it become?'],
    [{ kind: 'dyed', grams: '1', otherLot: '1' }, 'not on your shelf'],
    [{ kind: 'bought', grams: '1', day: '2026-11-25' }, 'This day has not come yet'],
  ])('with %j says what is wrong and enters nothing', async (typed, sentence) => {
    const { db, post, lot } = started()
    const answer = await post(`/lots/${lot}/movements`, typed)
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(sentence)
    expect(listMovements(db, lot)).toEqual([])
  })
})

describe('POST /movements/:id/correct', () => {
  test('enters the difference, and leaves the entry as it was', async () => {
    const { db, get, post } = startApp()
    const lot = makeLot(db)
    move(db, lot, 'bought', 100_000)
    expect((await get('/movements/1/correct')).text).toContain('Bought, 20 November 2026: 100 g')
    const answer = await post('/movements/1/correct', { grams: '90', note: 'misread' })
    expect(answer.headers.location).toBe(`/lots/${lot}?done=entered#ledger`)
    expect(listMovements(db, lot).map(({ kind, massMg, correctsId }) => [kind, massMg, correctsId])).toEqual([
      ['bought', 100_000, undefined],
      ['correction', -10_000, 1],
    ])
    expect((await get(`/lots/${lot}`)).text).toContain('entry 1 should have said 90 g; misread')
  })

  test('wants a reason, and corrects no correction', async () => {
    const { db, post } = startApp()
    const lot = makeLot(db)
    move(db, lot, 'bought', 100_000)
    expect((await post('/movements/1/correct', { grams: '90' })).text).toContain('Please say what was wrong.')
    await post('/movements/1/correct', { grams: '90', note: 'misread' })
    const again = await post('/movements/2/correct', { grams: '90', note: 'x' })
    expect(again.status).toBe(422)
    expect(again.text).toContain('Correct the entry itself')
  })
})

describe('GET /yarns', () => {
  test('filters by fibre, by word and by what is on hand, and orders', async () => {
    const { db, get } = startApp()
    const wool = makeLot(db, undefined, { colourName: 'madder red' })
    const silk = makeLot(db, makeYarn(db, { name: 'Gloss', blend: 'silk' }), {
      colourName: 'white',
      colourHex: '#ffffff',
    })
    move(db, silk, 'bought', 5000)
    const names = async (query: string) =>
      [...(await get(`/yarns?${query}`)).text.matchAll(/href="\/lots\/(\d+)"/g)].map(([, id]) => Number(id))
    expect(await names('')).toEqual([wool, silk])
    expect(await names('fibre=silk')).toEqual([silk])
    expect(await names('q=RED')).toEqual([wool])
    expect(await names('has=hand')).toEqual([silk])
    expect(await names('sort=light')).toEqual([silk, wool])
    expect(await names('has=short')).toEqual([])
  })
})

describe('the table of lots', () => {
  const started = () => {
    const started = startApp()
    makeLot(started.db, makeYarn(started.db, { name: '=1+1', count: '20/2 wool', countReading: 'Nm 20 2 single' }))
    move(started.db, 1, 'bought', 97_400)
    return started
  }
  const keyOf = (html: string) => /name="looked" value="([0-9a-f]{64})"/.exec(html)?.[1] ?? ''

  test('goes out without formulas, and comes in again as it was', async () => {
    const { db, get, post } = started()
    const table = (await get('/yarns/lots.csv')).text
    expect(table).toContain("'=1+1")
    const looked = await post('/yarns/import', { document: table })
    expect(looked.status).toBe(200)
    expect(looked.text).toContain('1 lot, 97.4 g on hand.')
    expect(listLots(db)).toHaveLength(1)
    const kept = { document: table, looked: keyOf(looked.text), keep: 'yes' }
    expect((await post('/yarns/import', kept)).headers.location).toBe('/yarns?done=yarns-kept')
    const [one, other] = listLots(db)
    // The yarn is the same one; the lot came a second time, because lots have no name of their own.
    expect(other).toEqual({ ...one, id: 2 })
    expect(listYarns(db)).toHaveLength(1)
    expect((await get('/yarns/lots.csv')).text.split('\r\n').slice(1, 3)).toEqual(Array(2).fill(table.split('\r\n')[1]))
  })

  test('that was changed after looking is not kept', async () => {
    const { db, post } = started()
    const looked = keyOf((await post('/yarns/import', { document: 'Yarn,Colour\nA,red' })).text)
    const answer = await post('/yarns/import', { document: 'Yarn,Colour\nA,blue', looked, keep: 'yes' })
    expect(answer.text).toContain('You changed something after it was looked at')
    expect(listLots(db)).toHaveLength(1)
  })

  test.each([
    ['', 'Please paste a table'],
    ['Yarn,Colour', 'Below the headings stands no lot.'],
    ['Yarn,Shade\nA,red', 'No column is called “Shade”'],
    ['Colour\nred', 'A column with the heading “Yarn” is needed.'],
    ['Yarn,Colour,Colour\nA,red,blue', '“Colour” is there twice.'],
    ['Yarn,Colour\nA,red,lost', 'Row 2, column C'],
    ['Yarn,Fibres,Colour\nA,wool 50,red\nB,wool,', 'Row 2, column B'],
    ['Yarn,Fibres,Colour\nA,wool,red\nB,wool,', 'Row 3, column C'],
    ['Yarn,Colour,Count\nA,red,20/2 wool', 'Write one of these under Reading: Nm 20 2 single; NeW 20 2 single.'],
    ['Yarn,Colour,On hand g\nA,red,1e3', 'Row 2, column C'],
    ['Yarn,Colour,Price,Currency\nA,red,5,EUR', 'What is the price for'],
  ])('%j is refused with its place, and nothing of it is kept', async (document, sentence) => {
    const { db, post } = started()
    const answer = await post('/yarns/import', { document })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain(sentence)
    expect(answer.text).not.toContain('Put them on the shelf')
    expect(listLots(db)).toHaveLength(1)
  })
})

describe('POST /pieces/:id/settle', () => {
  test('enters what was used, frees the rest, and shows the difference', async () => {
    const { db, get, post } = startApp()
    const piece = makePiece(db)
    const [one, other] = [makeLot(db), makeLot(db, undefined, { colourName: 'weld' })]
    for (const lot of [one, other]) {
      move(db, lot, 'bought', 200_000)
      move(db, lot, 'reserved', 60_000, piece)
    }
    const used = { [`used-${one}`]: '52.8', [`used-${other}`]: '71' }
    expect((await post(`/pieces/${piece}/settle`, used)).headers.location).toBe(`/pieces/${piece}/settle?done=settled`)
    expect(findLot(db, one)).toMatchObject({ onHandMg: 147_200, reservedMg: 0 })
    expect(findLot(db, other)).toMatchObject({ onHandMg: 129_000, reservedMg: 0 })
    expect(listMovements(db, one)[2]).toMatchObject({ kind: 'used', expectedMg: 60_000, foundMg: 52_800 })
    expect(listMovements(db, one)[3]).toMatchObject({ kind: 'released', reservedMg: -7200 })
    const shown = (await get(`/pieces/${piece}/settle`)).text
    expect(shown).toContain('>-7.2<')
    expect(shown).toContain('>+11<')
    expect(shown).toContain('Nothing is reserved for this piece any more.')
  })

  test('leaves alone what is left empty, and refuses what is no weight', async () => {
    const { db, post } = startApp()
    const [piece, lot] = [makePiece(db), makeLot(db)]
    move(db, lot, 'bought', 200_000)
    move(db, lot, 'reserved', 60_000, piece)
    expect((await post(`/pieces/${piece}/settle`, { [`used-${lot}`]: '' })).status).toBe(422)
    const answer = await post(`/pieces/${piece}/settle`, { [`used-${lot}`]: 'all' })
    expect(answer.text).toContain('value="all"')
    const asked = await post(`/pieces/${piece}/settle`, { [`used-${lot}`]: '201' })
    expect(asked.text).toContain('1 g more would be gone than there are')
    expect(findLot(db, lot)).toMatchObject({ onHandMg: 200_000, reservedMg: 60_000 })
  })
})

describe('a piece', () => {
  const PIECE = { name: 'Belt', 'role-0': 'weft', 'yarn-0': '', 'countSystem-0': 'tex' }

  test('names the lot of a yarn, and shows its swatch', async () => {
    const { db, get, post } = startApp()
    makeLot(db)
    await post('/pieces', { ...PIECE, 'lot-0': '1' })
    const shown = (await get('/pieces/1')).text
    expect(shown).toContain('href="/lots/1">Fen wool, madder red, lot 7</a>')
    expect((await get('/pieces/1/edit')).text).toContain(
      '<option value="1" selected>Fen wool, madder red, lot 7</option>',
    )
  })

  test('refuses a lot that is not on the shelf', async () => {
    const { post } = startApp()
    const answer = await post('/pieces', { ...PIECE, 'lot-0': '9' })
    expect(answer.status).toBe(422)
    expect(answer.text).toContain('This lot is not on the shelf any more')
  })
})

describe('GET /yarns/colour', () => {
  test('lists the lots nearest to a colour, and says how two differ', async () => {
    const { db, get } = startApp()
    const red = makeLot(db)
    const near = makeLot(db, undefined, { colourName: 'pale', colourHex: '#a04434' })
    makeLot(db, undefined, { colourName: 'white', colourHex: '#ffffff' })
    const shown = (await get(`/yarns/colour?lot=${red}&other=${near}`)).text
    const names = [...shown.matchAll(/<a href="\/lots\/(\d+)"/g)].map(([, id]) => Number(id))
    expect(names).toEqual([near, 3])
    expect(shown).toContain('a clear difference')
    expect((await get('/yarns/colour?colour=%239c3b2e')).text).toContain(`href="/lots/${red}"`)
    expect((await get('/yarns/colour?colour=reddish')).status).toBe(422)
  })
})

describe('POST /yarns/:id, opened before somebody else saved', () => {
  test('comes back with both texts', async () => {
    const { db, post } = startApp()
    makeYarn(db)
    await post('/yarns/1', { ...YARN, name: 'Theirs', version: '1' })
    const answer = await post('/yarns/1', { ...YARN, name: 'Mine', version: '1' })
    expect(answer.status).toBe(409)
    expect(answer.text).toContain('Theirs')
    expect(answer.text).toContain('Mine')
  })
})

describe('the bin', () => {
  test('keeps a lot with its ledger, and gives both back', async () => {
    const { db, get, post } = startApp()
    const lot = makeLot(db)
    move(db, lot, 'bought', 5000)
    const gone = await post(`/lots/${lot}/delete`)
    expect(gone.headers.location).toBe(`/yarns/1?undo=lot-${lot}&done=deleted`)
    expect((await get(`/lots/${lot}`)).status).toBe(404)
    expect((await get('/bin')).text).toContain('Fen wool, madder red')
    expect((await post(`/bin/lot/${lot}/restore`)).headers.location).toBe(`/lots/${lot}?done=restored`)
    expect(findLot(db, lot)?.onHandMg).toBe(5000)
    await post('/yarns/1/delete')
    expect((await post('/bin/yarn/1/purge')).headers.location).toBe('/bin?done=purged')
    expect(db.raw.prepare('select count(*) from movement').pluck().get()).toBe(0)
  })
})

describe('GET /search', () => {
  test('finds a yarn by its own words and by those of its lots', async () => {
    const { db, get } = startApp()
    makeLot(db, undefined, { dye: 'quillwort' })
    for (const q of ['quillwort', 'fen', 'quillwort&kind=yarn'])
      expect((await get(`/search?q=${q}`)).text).toContain('href="/yarns/1"')
    expect((await get('/search?q=quillwort&kind=source')).text).not.toContain('href="/yarns/1"')
  })
})
