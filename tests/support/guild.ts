import type { Express } from 'express'
import request, { type Response } from 'supertest'
import { createApp } from '../../server/app.ts'
import type { Db } from '../../server/db/open.ts'
import type { Role } from '../../server/db/tables.ts'
import type { LogEvent } from '../../server/log.ts'
import { hashPassword } from '../../server/member/password.ts'
import { insertMember } from '../../server/member/queries.ts'
import { makeDataDir, migratedDb, NOW, pagesBelow, ZONE } from './start.ts'

/** Good enough for everybody in the tests. */
export const PASSWORD = 'seven herons over the marsh'

/** Hashed once, at its full cost; every sign-in is checked against it at its full cost too. */
const hashOfPassword = () => (passwordHash ??= hashPassword(PASSWORD))
let passwordHash: Promise<string> | undefined

export interface Browser {
  readonly cookies: Map<string, string>
  get(path: string): Promise<Response>
  post(path: string, fields?: Record<string, string>): Promise<Response>
}

export interface Guild {
  readonly app: Express
  readonly db: Db
  readonly broken: unknown[]
  readonly logged: LogEvent[]
  /** What `now` says; tests move it on. */
  readonly clock: { now: Date }
  /** A browser that keeps its cookies. */
  browser(options?: { agent?: string; from?: string }): Browser
  /** Somebody with an account, and the password of all. */
  person(signInName: string, role: Role): Promise<number>
  /** A browser in which this member has signed in. */
  signedIn(signInName: string, options?: { agent?: string; from?: string }): Promise<Browser>
}

interface Options {
  readonly db?: Db
  readonly isLoopback?: boolean
  readonly baseUrl?: string
}

/** The program as a guild runs it: other machines reach it, everybody signs in. */
export function startGuild({ db = migratedDb(), isLoopback = false, baseUrl }: Options = {}): Guild {
  const broken: unknown[] = []
  const logged: LogEvent[] = []
  const clock = { now: NOW }
  const base = baseUrl === undefined ? '' : new URL(baseUrl).pathname.replace(/\/+$/, '')
  const app = createApp({
    ...{ db, dataDir: makeDataDir(), isLoopback, baseUrl, page: pagesBelow(base), zone: ZONE, now: () => clock.now },
    log: (event) => void logged.push(event),
    onBroken: (error) => void broken.push(error),
  })
  const browser: Guild['browser'] = (options) =>
    newBrowser(app, baseUrl ?? (isLoopback ? 'http://localhost:4180' : 'http://lan.test:4180'), options)
  return {
    ...{ app, db, broken, logged, clock, browser },
    person: async (signInName, role) => {
      const member = { name: signInName.toUpperCase(), signInName, passwordHash: await hashOfPassword() }
      return insertMember(db, member, role, clock.now) as number
    },
    signedIn: async (signInName, options) => {
      const own = browser(options)
      const answer = await own.post('/sign-in', { signInName, password: PASSWORD })
      if (answer.status !== 303) throw new Error(`${signInName} could not sign in: ${answer.status}`)
      return own
    },
  }
}

function newBrowser(app: Express, address: string, { agent = 'Firefox/1 Linux', from = '' } = {}): Browser {
  const { origin, pathname } = new URL(address)
  const base = pathname.replace(/\/+$/, '')
  const cookies = new Map<string, string>()
  const send = async (method: 'get' | 'post', path: string, fields: Record<string, string> = {}) => {
    const asked = request(app)
      [method](base + path)
      .set('Host', new URL(origin).host)
      .set('User-Agent', agent)
    if (from) asked.set('X-Forwarded-For', from)
    if (cookies.size > 0) asked.set('Cookie', [...cookies].map((pair) => pair.join('=')).join('; '))
    const answer = await (method === 'post' ? asked.set('Origin', origin).type('form').send(fields) : asked)
    for (const line of (answer.get('Set-Cookie') ?? []) as string[]) keep(cookies, line)
    return answer
  }
  return { cookies, get: (path) => send('get', path), post: (path, fields) => send('post', path, fields) }
}

function keep(cookies: Map<string, string>, line: string): void {
  const [pair = ''] = line.split(';')
  const [name = '', value = ''] = pair.split('=')
  if (value === '') cookies.delete(name)
  else cookies.set(name, value)
}
