import { readFileSync } from 'node:fs'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { insertInvite, insertResetLink } from '../../server/member/link-queries.ts'
import { ANONYMOUS, LONE } from '../../server/rights/viewer.ts'
import { routeOf, startTarget, type Answer, type Target } from '../guard/xss/target.ts'
import { launchChromium } from '../support/chromium.ts'
import { demoDb } from '../support/demo.ts'
import { makePeople } from '../support/people.ts'
import { makePhoto } from '../rights/things.ts'
import { NOW } from '../support/start.ts'

interface Field {
  readonly name: string
  readonly id: string
  readonly type: string
  readonly inputmode: string
  readonly value: string
  readonly isSent: boolean
  readonly isHidden: boolean
  readonly says: string
  readonly problem: string
  readonly isInvalid: boolean
  readonly faults: readonly string[]
}
interface Form {
  readonly method: string
  readonly action: string
  readonly isFile: boolean
  readonly fields: readonly Field[]
}
interface Seen {
  readonly title: string
  readonly forms: readonly Form[]
  readonly problems: {
    readonly heading: string
    readonly takesFocus: boolean
    readonly isFirst: boolean
    readonly links: readonly { text: string; leads: boolean; isBeside: boolean; beside: readonly string[] }[]
  } | null
  readonly tables: readonly { says: string; faults: readonly string[] }[]
  readonly links: readonly string[]
  readonly empty: { says: string; actions: number } | null
}

let browser: Browser
let parser: Page
let target: Target
/** Every page that was reached, with who reached it. */
const pages: { path: string; as: string; seen: Seen }[] = []

const inspect = (text: string) =>
  parser.evaluate<Seen>(`inspect(${JSON.stringify(text).replaceAll('\u2028', '\\u2028')})`)

/** So many pages of one route: the forms of claims differ by their features. */
const MOST: Readonly<Record<string, number>> = { 'GET /pieces/:id/claims/new': 8, 'GET /lots/:id': 12 }

async function walk(from: readonly string[], as: string): Promise<void> {
  const seen = new Set<string>(from)
  const count = new Map<string, number>()
  const waiting = [...from]
  for (let path = waiting.shift(); path !== undefined; path = waiting.shift()) {
    const route = routeOf('GET', path)
    if (/\.\w+$|\/sign-out/.test(path.split('?')[0]!)) continue
    const times = count.get(route) ?? 0
    if (times >= (MOST[route] ?? 2)) continue
    count.set(route, times + 1)
    const answer = await target.send(path, as)
    if (answer.type !== 'text/html' || answer.status !== 200) continue
    const found = await inspect(answer.text)
    pages.push({ path, as, seen: found })
    for (const link of found.links) {
      if (seen.has(link)) continue
      seen.add(link)
      waiting.push(link)
    }
  }
}

beforeAll(async () => {
  browser = await launchChromium()
  parser = await browser.newPage()
  await parser.goto('about:blank')
  await parser.evaluate(readFileSync(new URL('./inspect.js', import.meta.url), 'utf8'))
  target = await startTarget((db) => ({ ...makePeople(db), owner: LONE, anonymous: ANONYMOUS }), demoDb())
  const photo = makePhoto(target.db, { original_id: 1 })
  const moved = ['bought', 'dyed', 'used', 'weighed'].map((kind) => `/lots/2?do=${kind}`)
  await walk(['/', `/photos/${photo}/edit`, ...moved], 'owner')
  await walk(['/account', '/members', '/export'], 'keeper')
  const reset = insertResetLink(target.db, { id: 1, role: 'keeper' }, NOW)
  const invitation = insertInvite(target.db, 'member', NOW)
  await walk(['/sign-in', `/invite/${invitation}`, `/reset/${reset}`], 'anonymous')
}, 120_000)
afterAll(async () => {
  await browser?.close()
  await target?.stop()
})

/** One form of each address and each set of fields. */
function listForms(): { path: string; as: string; form: Form }[] {
  const found = new Map<string, { path: string; as: string; form: Form }>()
  for (const { path, as, seen } of pages)
    for (const form of seen.forms) {
      const names = form.fields.map(({ name }) => name.replace(/\d+$/, 'N')).join(' ')
      found.set(`${form.method} ${routeOf('POST', form.action)} ${names}`, { path, as, form })
    }
  return [...found.values()]
}

const isTyped = ({ type, isHidden }: Field) => !isHidden && /^(text|textarea|url|search|password)$/.test(type)

/** Sends the form as it stands, but for what is typed. */
async function sendForm(form: Form, as: string, typed: (field: Field) => string | undefined): Promise<Answer> {
  const body = form.isFile ? new FormData() : new URLSearchParams()
  for (const field of form.fields)
    if (field.isSent && field.type !== 'file')
      body.append(field.name, (isTyped(field) ? typed(field) : undefined) ?? field.value)
  return target.send(form.action, as, body)
}

test('every field of every page has a label and its hint before it, and says what may be filled in', () => {
  const faults = listForms().flatMap(({ path, form }) =>
    form.fields
      .filter(({ isHidden }) => !isHidden)
      .flatMap(({ name, faults }) => faults.map((fault) => `${path}: ${name} ${fault}`)),
  )
  expect(pages.length).toBeGreaterThan(90)
  expect(listForms().length).toBeGreaterThan(80)
  expect(faults).toEqual([])
})

test('every table has a name, heads with a scope, and scrolls in a region of its own', () => {
  const faults = pages.flatMap(({ path, seen }) =>
    seen.tables.flatMap(({ says, faults }) => faults.map((fault) => `${path}: “${says}” ${fault}`)),
  )
  expect([...new Set(faults)]).toEqual([])
})

/** Its one problem is of two fields together, and a name comes back as it was looked for. */
const SIGN_IN = 'POST /sign-in'
/** They have one field, and say beside it or above it what is wrong. */
const ONE_SENTENCE: ReadonlySet<string> = new Set(['POST /sources/import', 'POST /quotes/:id/forecast'])

const WRONG = `zz ${'wrong '.repeat(500)}`.trim()

test('every form that is filled in wrongly comes back: headed, in focus, each problem leading to its field, every word kept', async () => {
  const faults: string[] = []
  const refused = new Set<string>()
  for (const { path, as, form } of listForms()) {
    const typed = form.fields.filter(isTyped)
    if (form.method !== 'POST' || typed.length === 0) continue
    const answer = await sendForm(form, as, () => WRONG)
    const route = routeOf('POST', form.action)
    if (answer.status !== 422) {
      faults.push(`${path}, ${route}: answered with ${answer.status}`)
      continue
    }
    refused.add(route)
    const { title, problems, forms } = await inspect(answer.text)
    const say = (fault: string) => faults.push(`${path}, ${route}: ${fault}`)
    if (!problems) {
      if (!ONE_SENTENCE.has(route)) say('no list of problems')
      continue
    }
    if (!title.startsWith('Error: ')) say(`the title is ${title}`)
    if (/Error: Error/.test(title)) say('the title says Error twice')
    if (problems.heading !== 'There is a problem') say(`headed ${problems.heading}`)
    if (!problems.takesFocus || !problems.isFirst) say('the list is not first, or not in focus')
    for (const link of problems.links) {
      if (!link.leads) say(`“${link.text}” leads nowhere`)
      else if (!link.isBeside && route !== SIGN_IN)
        say(`“${link.text}” is not said beside its field, where it says ${link.beside.join(' ')}`)
    }
    const back = forms.find((each) => routeOf('POST', each.action) === route)
    for (const { name, type } of typed) {
      const field = back?.fields.find((each) => each.name === name)
      const expected = type === 'password' ? '' : WRONG
      if (field?.value !== expected && route !== SIGN_IN) say(`${name} says ${field?.value.slice(0, 20) ?? 'nothing'}`)
    }
    for (const field of back?.fields ?? [])
      if (field.problem !== '' && !field.isInvalid && field.type !== 'checkbox')
        say(`${field.name} is not marked as invalid`)
  }
  expect(faults).toEqual([])
  expect(refused.size).toBeGreaterThan(38)
})

test('every decimal says the same of a point and of a comma, and brings up the keys for it', async () => {
  const faults: string[] = []
  let count = 0
  for (const { path, as, form } of listForms()) {
    if (form.method !== 'POST' || form.fields.filter(isTyped).length === 0) continue
    const route = routeOf('POST', form.action)
    const backFrom = async (typed: (field: Field) => string | undefined) => {
      const answer = await sendForm(form, as, typed)
      if (answer.status !== 422) return []
      const { forms } = await inspect(answer.text)
      return forms.find((each) => routeOf('POST', each.action) === route)?.fields ?? []
    }
    for (const { name, inputmode, type, problem } of await backFrom(() => 'zz'))
      if (/not a number|type a number/i.test(problem) && inputmode !== 'decimal' && type !== 'textarea')
        faults.push(`${path}: ${name} wants a number and does not bring up its keys: ${problem}`)
    const decimals = form.fields.filter(({ inputmode }) => inputmode === 'decimal')
    count += decimals.length
    if (decimals.length === 0) continue
    const typing = (text: string) => backFrom(({ inputmode }) => (inputmode === 'decimal' ? text : undefined))
    const [commas, points] = [await typing('1,5'), await typing('1.5')]
    for (const { name, problem } of commas) {
      if (problem !== (points.find((each) => each.name === name)?.problem ?? ''))
        faults.push(`${path}: ${name} with a comma: ${problem}`)
      if (/not a number|type a number/i.test(problem)) faults.push(`${path}: ${name} refuses 1,5: ${problem}`)
    }
  }
  expect(faults).toEqual([])
  expect(count).toBeGreaterThan(25)
})
