import { expect, test } from 'vitest'
import { startApp } from '../support/start.ts'
import { readable } from '../support/html.ts'

const { get, broken } = startApp()
const ask = (asked: Record<string, string>) => get(`/yarns/reckon?${new URLSearchParams(asked).toString()}`)

test('GET /yarns/reckon shows the form, and says a count in every system', async () => {
  const empty = await get('/yarns/reckon')
  expect(empty.status).toBe(200)
  expect(empty.text).not.toContain('What it says')
  // ISO 1139, worked through in the reference sheet: 34 tex x 2 plied to R 69.3 tex.
  const plied = await ask({ count: '34 tex x 2 R 69.3 tex' })
  expect(plied.status).toBe(200)
  for (const words of ['69.30 tex', 'for plying took up 1.88 %', 'denier', '623.7', '306.0'])
    expect(plied.text).toContain(words)
})

test('GET /yarns/reckon adds unlike strands, and says that what plying takes up is not in it', async () => {
  // C. P. Brooks, Cotton Manufacturing: 40s and 20s together are 13 1/3.
  const { text } = await ask({ count: 'NeC 40 + NeC 20' })
  expect(text).toContain('44.29 tex')
  expect(text).toContain('13.33')
  expect(text).toContain('what plying takes up is not in it')
  expect(text).not.toContain('One single')
})

test('GET /yarns/reckon asks where customs differ, and takes the answer', async () => {
  const asked = await ask({ count: '20/2 wool' })
  expect(asked.status).toBe(422)
  expect(asked.text).toContain('value="20/2 wool"')
  const links = [...readable(asked.text).matchAll(/href="([^"]*reading=[^"]*)"/g)].map(([, href]) =>
    href!.replaceAll('&amp;', '&'),
  )
  expect(links).toHaveLength(2)
  const [metric, worsted] = await Promise.all(links.map((link) => get(link)))
  expect([metric!.status, worsted!.status]).toEqual([200, 200])
  expect(metric!.text).toContain('100.0 tex')
  expect(worsted!.text).toContain('88.58 tex')
})

test('GET /yarns/reckon gives thickness with its uncertainty, twist, and what wraps say', async () => {
  // 0.201 mm is the wool yarn of 25 tex, packed to 0.6, of the reference sheet; 30 is its twist factor at 600 turns (GATE Textile 2014).
  const { text } = await ask({ count: '25 tex', turns: '600', wraps: '20', over: '25.4' })
  for (const words of ['0.2056 ± 0.0026 mm', 'From 0.201 to', '30.0 turns/cm x root tex', '1.27 mm', 'about'])
    expect(text).toContain(words)
  const wrapsAlone = await ask({ count: '', wraps: '20', over: '25.4' })
  expect(wrapsAlone.status).toBe(200)
  expect(wrapsAlone.text).toContain('1.27 mm')
})

test('GET /yarns/reckon by a photograph’s scale gives a diameter and the yarn that is as thick', async () => {
  // Geometry: 0.3 mm of wool, 1.31 g/cm³, at 0.575 fibre, is d² pi rho phi / 0.004 = 53.2 tex.
  const { status, text } = await ask({ count: '', threadsPx: '180', threads: '10', scalePx: '600', scaleMm: '10' })
  expect(status).toBe(200)
  for (const words of ['0.3000 ± 0.0014 mm', '53.2 tex, 50.9 to 55.6', 'wool 1.31 g/cm³ (Morton'])
    expect(text).toContain(words)
})

test.each([
  [{ count: '' }, 'Please write a count here, or wraps or a photograph’s scale below.'],
  [{ count: 'fine' }, 'This is not a count that is known here'],
  [{ count: '20/2 wool', reading: '7' }, 'please choose one below'],
  [{ count: 'Nm 28', density: '-1' }, 'Please type the density'],
  [{ count: 'Nm 28', contraction: '70' }, 'below 60 %'],
  [{ count: 'Nm 28', turns: 'many' }, 'Please type turns in a metre'],
  [{ count: 'Nm 28', wraps: '20' }, 'Along how many mm?'],
  [{ count: '', threadsPx: '180', scaleMm: '10' }, 'This is needed too'],
  [{ count: 'Nm 28', over: '20' }, 'How many wraps?'],
  [{ count: 'Nm 28', fibre: 'moonlight' }, 'Please choose a fibre.'],
] as [Record<string, string>, string][])(
  'GET /yarns/reckon refuses %o and keeps what was typed',
  async (asked, sentence) => {
    const { status, text } = await ask(asked)
    expect(status).toBe(422)
    expect(text).toContain(sentence)
    for (const typed of Object.values(asked)) if (typed !== 'moonlight') expect(text).toContain(typed)
  },
)

test('GET /yarns/reckon of counts at the ends of what numbers hold is answered, not broken', async () => {
  for (const count of ['NeC 999999999999', '0.000001 tex', '999999999999 ktex', 'Nm 0'])
    expect((await ask({ count })).status).toBeLessThan(500)
  expect(broken).toEqual([])
})
