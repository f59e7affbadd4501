import type { AddressInfo } from 'node:net'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { RouteRight } from '../../server/rights/routes-table.ts'
import { ROUTES } from '../../server/rights/routes-table.ts'
import { makePeople, WHO, type Who } from '../support/people.ts'
import { makeDataDir, migratedDb, startApp } from '../support/start.ts'
import { expectedOfRule, expectedOfThing, type Expected } from './expected.ts'
import { hasCoMaker, makeThings, stateAs, STATES, subjectOf, THINGS, type Thing } from './things.ts'

const db = migratedDb()
const people = makePeople(db)
const things = makeThings(db, people)
const dataDir = makeDataDir()
const started = WHO.map((who) => [who, startApp(db, dataDir, people[who])] as const)
const servers = started.map(([who, { app }]) => [who, app.listen(0, '127.0.0.1')] as const)
const addresses = {} as Record<Who, string>

beforeAll(async () => {
  for (const [who, server] of servers) {
    if (!server.listening) await new Promise<void>((resolve) => server.once('listening', resolve))
    addresses[who] = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
  }
})
afterAll(async () => {
  for (const [, server] of servers) {
    server.closeAllConnections()
    await new Promise((resolve) => server.close(resolve))
  }
})

/** Work that goes on beside the request, on files: who may do it is asked in `keeper-work.test.ts`. */
const BESIDE = new Set([
  ...['POST /keeper/backup', 'GET /keeper/check', 'POST /keeper/restore/:name', 'POST /keeper/delete/:name'],
])
/** Where the file itself is asked for, which these things have not. */
const FILES = new Set([
  ...['GET /photos/:id/original', 'GET /photos/:id/:size.jpg'],
  // These pieces have no draft: the page beside the loom says so, and there is neither file nor icon of it.
  ...['GET /pieces/:id/loom/file.html', 'GET /pieces/:id/loom/icon.svg'],
])

const nameOf = ({ method, path }: RouteRight) => `${method} ${path}`

const fill = (path: string, id: number) =>
  path.replace(':id', String(id)).replace(':number', '1').replace(':size', '320').replace(/:\w+/g, 'none')

/** One request; what it wrote is taken back, so that every cell of the table meets the same notebook. */
async function ask({ method, path }: RouteRight, id: number, who: Who) {
  db.raw.exec('savepoint cell')
  const before = db.raw.prepare('select total_changes()').pluck().get()
  try {
    const own = addresses[who]
    const sent = method === 'POST' ? { body: new URLSearchParams({ note: '' }), headers: { Origin: own } } : {}
    const answer = await fetch(own + fill(path, id), { method, redirect: 'manual', ...sent })
    const text = await answer.text()
    const wrote = db.raw.prepare('select total_changes()').pluck().get() !== before
    return { status: answer.status, text, location: answer.headers.get('location') ?? '', wrote }
  } finally {
    db.raw.exec('rollback to cell; release cell')
  }
}

/** What the answer says of the rights, by its status and its sentence. */
function read({ status, text, location }: Awaited<ReturnType<typeof ask>>, noun: string): Expected | string {
  if (status === 303 && location.startsWith('/sign-in?next=')) return 'signIn'
  if (status === 403 && text.includes('Nothing was kept yet, and nothing was changed.')) return 'signIn'
  if (status === 403 && text.includes('This is not yours to change.')) return 'refused'
  if (status === 404 && text.includes(`There is no ${noun} at this address.`)) return 'absent'
  return status < 500 ? 'allow' : `broke with ${status}`
}

const NOUNS: Readonly<Record<string, string>> = {
  ...{ photo: 'photograph', observed: 'observed face', fibre_density: 'density' },
}

/** Every cell of one route that is answered otherwise than expected. */
async function listDeviations(
  route: RouteRight,
  cells: readonly { id: number; who: Who; expected: Expected; label: string }[],
  noun: string,
): Promise<string[]> {
  const found: string[] = []
  for (const { id, who, expected, label } of cells) {
    if (expected === 'allow' && BESIDE.has(nameOf(route))) continue
    const answer = await ask(route, id, who)
    const got = read(answer, noun)
    const say = (what: string) => found.push(`${who}, ${label}: expected ${expected}, ${what} (${answer.status})`)
    if (got !== expected) say(got)
    if (expected !== 'allow' && answer.wrote) say('and something was written')
    if (expected === 'allow' && 'subject' in route.rule && route.method === 'GET' && !FILES.has(nameOf(route)))
      if (![200, 303].includes(answer.status)) say('without a page')
  }
  return found
}

const thingsOf = (route: RouteRight): Thing[] => {
  const { rule } = route
  return 'subject' in rule ? THINGS.filter((thing) => subjectOf(thing) === rule.subject) : []
}

describe('every route that speaks of a thing, for everybody, in every state of the thing', () => {
  const routes = ROUTES.flatMap((route) => thingsOf(route).map((thing) => [nameOf(route), thing, route] as const))

  test.each(routes)(
    '%s, %s',
    async (_name, thing, route) => {
      const { rule } = route
      if (!('subject' in rule)) throw new Error('This route speaks of nothing')
      const cells = STATES.flatMap((state) =>
        WHO.map((who) => ({
          ...{ id: things[thing][state], who, label: state },
          expected: expectedOfThing(rule.kind, hasCoMaker(thing), stateAs(thing, state), who),
        })),
      )
      expect(await listDeviations(route, cells, NOUNS[rule.subject] ?? rule.subject)).toEqual([])
    },
    120_000,
  )
})

describe('every other route, for everybody', () => {
  const routes = ROUTES.filter((route) => thingsOf(route).length === 0).map((route) => [nameOf(route), route] as const)

  test.each(routes)(
    '%s',
    async (_name, route) => {
      const { rule } = route
      if ('subject' in rule) throw new Error(`Nothing is made for rules about ${rule.subject}`)
      const cells = WHO.map((who) => ({
        ...{ id: people.owner.id, who, label: rule.kind },
        expected: expectedOfRule(rule.kind, who),
      }))
      expect(await listDeviations(route, cells, 'page')).toEqual([])
    },
    120_000,
  )
})

test('nothing broke on the way', () => {
  expect(started.flatMap(([, { broken }]) => broken)).toEqual([])
})
