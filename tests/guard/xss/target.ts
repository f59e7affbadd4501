import { readFileSync } from 'node:fs'
import type { AddressInfo } from 'node:net'
import type { Page } from 'playwright-core'
import { createApp } from '../../../server/app.ts'
import type { Db } from '../../../server/db/open.ts'
import { createPages } from '../../../server/pages.ts'
import { findRoute } from '../../../server/rights/guard.ts'
import type { Viewer } from '../../../server/rights/viewer.ts'
import { makeDataDir, migratedDb, NOW, ZONE } from '../../support/start.ts'

export interface Answer {
  readonly status: number
  readonly type: string
  readonly text: string
  readonly bytes: Buffer
  readonly location: string
}

/** What a page shows to a browser without running it: everything alive in it, and its forms. */
export interface Form {
  readonly method: string
  readonly action: string
  readonly fields: readonly { name: string; value: string; takesWords: boolean; isHidden: boolean }[]
}

const DETECTOR = readFileSync(new URL('./detector.js', import.meta.url), 'utf8')

/** The detector of `detector.js` in a browser's page; of what is fed to it nothing runs. */
export async function openDetector(page: Page) {
  await page.goto('about:blank')
  await page.evaluate(DETECTOR)
  const call = <T>(name: string, ...given: unknown[]) =>
    page.evaluate<T>(`${name}(...${JSON.stringify(given).replaceAll('\u2028', '\\u2028')})`)
  return {
    findLive: (text: string, type = 'text/html') => call<string[]>('findLive', text, type),
    findLiveIn: (texts: readonly (readonly [text: string, type: string])[]) =>
      call<string[][]>(`((all) => all.map(([text, type]) => findLive(text, type)))`, texts),
    listForms: (text: string) => call<Form[]>('listForms', text),
  }
}
export type Detector = Awaited<ReturnType<typeof openDetector>>

/** The program on a port, where the header `x-as` says who asks. */
export async function startTarget(viewers: (db: Db) => Readonly<Record<string, Viewer>>, db = migratedDb()) {
  const dataDir = makeDataDir()
  const broken: unknown[] = []
  const who = viewers(db)
  const nameOf = db.raw.prepare<[number], string>('select name from member where id = ?').pluck()
  const app = createApp({
    ...{ db, dataDir, isLoopback: true, page: createPages(''), now: () => NOW, zone: ZONE },
    onBroken: (error) => void broken.push(error),
    viewerOf: (req) => {
      const viewer = who[req.get('x-as') ?? 'owner']!
      return viewer.kind === 'member' ? { ...viewer, name: nameOf.get(viewer.id) ?? viewer.name } : viewer
    },
  })
  const server = app.listen(0, '127.0.0.1')
  await new Promise<void>((resolve) => (server.listening ? resolve() : server.once('listening', resolve)))
  const origin = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
  /** Routes that were asked, as the table of rights writes them. */
  const asked = new Set<string>()
  /** @param body a form, or an object that is sent as JSON */
  const send = async (path: string, as: string, body?: URLSearchParams | FormData | object): Promise<Answer> => {
    const isForm = body instanceof URLSearchParams || body instanceof FormData
    const headers = { Origin: origin, 'x-as': as, ...(body && !isForm && { 'Content-Type': 'application/json' }) }
    const sent = body ? { method: 'POST', body: isForm ? body : JSON.stringify(body) } : {}
    asked.add(routeOf(body ? 'POST' : 'GET', path))
    const answer = await fetch(origin + path, { ...sent, headers, redirect: 'manual' })
    const bytes = Buffer.from(await answer.arrayBuffer())
    const type = (answer.headers.get('content-type') ?? '').split(';')[0]!
    return {
      status: answer.status,
      type,
      text: bytes.toString(),
      bytes,
      location: answer.headers.get('location') ?? '',
    }
  }
  return {
    ...{ db, dataDir, broken, origin, send, asked },
    stop: async () => {
      server.closeAllConnections()
      await new Promise((resolve) => server.close(resolve))
    },
  }
}
export type Target = Awaited<ReturnType<typeof startTarget>>

export const routeOf = (method: string, path: string): string => {
  const found = findRoute(method, path.split('?')[0]!)
  return found ? `${method} ${found.right.path}` : `${method} ${path}`
}
