import { createServer, type AddressInfo } from 'node:net'
import { PASSWORD } from './guild.ts'
import { wantedMode, type Mode } from './mode.ts'
import { startProxy } from './proxy.ts'
import { startServer, type Running } from './server.ts'

export interface Reached extends Running {
  /** Where nobody has an account yet: the address of the page that makes the first one. */
  readonly setupLink: string
}

interface Options {
  readonly demo?: boolean
  /** If not said, and no mode is wanted for all: this machine alone. */
  readonly mode?: Mode
  /** Nobody has an account yet, and everybody needs one: on loopback too, which others may reach then. */
  readonly withoutAccount?: boolean
}

/** Servers where one signs in, by their address; `openWindow` does so, and keeps what it was given. */
export const toSignInAt = new Set<string>()
export const KEEPER = 'keeper'

/** Every server has a name of its own, for browsers keep cookies by the name and not by the port. */
let started = 0

/** The program for a browser, reached in one of the ways that people set it up. */
export async function startReached({ demo = false, mode, withoutAccount = false }: Options = {}): Promise<Reached> {
  const wanted = wantedMode() ?? mode ?? 'loopback'
  const host = `n${(started += 1)}.bands.test`
  const { running, url, port, close } = await START[wanted](host, demo, withoutAccount)
  const own = { url, setupLink: setupLinkOf(running, url) }
  if (own.setupLink && !withoutAccount) {
    await makeKeeper(port, own.setupLink)
    toSignInAt.add(url)
  }
  const stop = async () => {
    toSignInAt.delete(url)
    await close()
    await running.stop()
  }
  return { ...running, ...own, stop }
}

interface Way {
  readonly running: Running
  /** As the browser has it; with a trailing slash. */
  readonly url: string
  /** The program's own. */
  readonly port: string
  close(): Promise<void>
}

const START: Readonly<Record<Mode, (host: string, demo: boolean, isOpen: boolean) => Promise<Way>>> = {
  loopback: async (_host, demo, isOpen) => {
    const running = await startServer({ demo, env: isOpen ? { HOST: '0.0.0.0' } : {} })
    return { running, url: running.url, port: new URL(running.url).port, close: () => Promise.resolve() }
  },
  lan: async (host, demo) => {
    const running = await startServer({ demo, env: { HOST: '0.0.0.0' } })
    const { port } = new URL(running.url)
    return { running, url: `http://${host}:${port}/`, port, close: () => Promise.resolve() }
  },
  https: (host, demo) => behindProxy({ keepsHost: true }, host, '', demo),
  // Its proxy writes a Host of its own, as some do that nobody told otherwise.
  'sub-path': (host, demo) => behindProxy({ keepsHost: false }, host, '/shelf/bands', demo),
}

async function behindProxy(kind: { keepsHost: boolean }, host: string, path: string, demo: boolean): Promise<Way> {
  const proxy = await startProxy(kind)
  const port = await freePort()
  proxy.leadTo(Number(port))
  const address = `https://${host}:${proxy.port}${path}`
  const running = await startServer({ demo, env: { BASE_URL: address, PORT: port } })
  return { running, url: `${address}/`, port, close: () => proxy.close() }
}

/** The program prints its public address, not its port; so the port is chosen before. */
async function freePort(): Promise<string> {
  const server = createServer()
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as AddressInfo
  await new Promise((resolve) => server.close(resolve))
  return String(port)
}

function setupLinkOf(running: Running, url: string): string {
  const token = /\/setup\/([\w-]{43})$/m.exec(running.said())?.[1]
  return token === undefined ? '' : `${url}setup/${token}`
}

/** The first account, as its page makes it, but past the proxy: only the browser knows names that end in `.test`. */
async function makeKeeper(port: string, setupLink: string): Promise<void> {
  const near = `http://127.0.0.1:${port}`
  const { pathname, origin, protocol } = new URL(setupLink)
  const answer = await fetch(near + pathname, {
    ...{ method: 'POST', redirect: 'manual', headers: { origin: protocol === 'https:' ? origin : near } },
    body: new URLSearchParams({ name: 'Oda', signInName: KEEPER, password: PASSWORD }),
  })
  if (answer.status !== 303) throw new Error(`No account was made: ${answer.status}`)
}
