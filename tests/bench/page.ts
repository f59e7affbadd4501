import { Agent, createServer, get, type RequestListener, type Server } from 'node:http'
import { tmpdir } from 'node:os'
import express from 'express'
import { createApp } from '../../server/app.ts'
import { createPages } from '../../server/pages.ts'
import type { Db } from '../../server/db/open.ts'
import { insertDraft } from '../../server/draft/queries.ts'
import { makeBenchDraft } from './bench-draft.ts'
import { asRatio, inKb, takeTurns, tell } from './measure.ts'

const ROUNDS = 11
const HELLOS = 20

/** Pages of the demo over loopback, beside an Express that says hello in the same process. One request at a time. */
export async function benchPages(db: Db): Promise<void> {
  const large = insertDraft(db, { draft: makeBenchDraft(200, 400), notes: '', originalId: undefined }, AT).id
  const app = createApp({
    ...{
      db,
      dataDir: tmpdir(),
      isLoopback: true,
      page: createPages(''),
      now: () => new Date(AT),
      zone: 'Europe/Berlin',
    },
    onBroken: (error) => {
      throw error
    },
  })
  const hello = express().get('/', (_req, res) => void res.send('hello'))
  const [ours, theirs] = [await listen(app), await listen(hello)]
  const paths = {
    home: '/',
    originals: '/originals',
    original: '/originals/1',
    piece: '/pieces/1',
    draft: '/drafts/1',
    one: '/pieces/1/compare',
    several: '/compare?piece=1&piece=2&piece=3&piece=4',
    search: '/search?q=band',
    large: `/drafts/${large}`,
  }
  const bodies = new Map<string, string>()
  const page = (path: string) => ({
    run: async () => void bodies.set(path, await fetchText(ours.origin + path)),
  })
  const tasks = Object.fromEntries(Object.entries(paths).map(([name, path]) => [name, page(path)])) as Record<
    keyof typeof paths,
    { run: () => Promise<void> }
  >
  const helloTask = {
    run: async () => {
      for (let time = 0; time < HELLOS; time += 1) await fetchText(theirs.origin)
    },
    times: HELLOS,
  }
  const taken = await takeTurns({ hello: helloTask, ...tasks }, ROUNDS)
  console.log(
    `Pages of the demo over loopback, client in the same process, one request at a time; medians of n = ${ROUNDS} rounds`,
  )
  tell('Express says hello', taken.hello, `mean of ${HELLOS} in each round`)
  for (const [name, path] of Object.entries(paths) as [keyof typeof paths, string][]) {
    const what = name === 'large' ? 'a draft of 200 x 400' : path
    tell(what, taken[name], asRatio(taken[name], taken.hello, 'hello'), inKb(bodies.get(path)!))
  }
  ours.server.close()
  theirs.server.close()
  agent.destroy()
}

const AT = '2026-11-24T12:00:00.000Z'
const agent = new Agent({ keepAlive: true, maxSockets: 1 })

async function listen(app: RequestListener): Promise<{ server: Server; origin: string }> {
  const server = createServer(app)
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  return { server, origin: `http://127.0.0.1:${(server.address() as { port: number }).port}` }
}

function fetchText(address: string): Promise<string> {
  return new Promise((resolve, reject) => {
    get(address, { agent }, (res) => {
      if (res.statusCode !== 200) return reject(new Error(`${address} answered ${res.statusCode}`))
      let text = ''
      res.setEncoding('utf8')
      res.on('data', (chunk: string) => (text += chunk))
      res.on('end', () => resolve(text))
    }).on('error', reject)
  })
}
