import { request, type IncomingMessage, type ServerResponse } from 'node:http'
import { createServer } from 'node:https'
import type { AddressInfo } from 'node:net'
import { certificate } from './certificate.ts'

export interface Proxy {
  readonly port: number
  /** Where what comes in is passed on to. */
  leadTo(port: number): void
  close(): Promise<void>
}

/** These are about one connection and not about what is sent over it. */
const OF_THE_CONNECTION = new Set(['connection', 'keep-alive', 'transfer-encoding', 'upgrade'])

/**
 * What a guild puts before the program: takes https, passes plain http on with the path as it is, and says who came.
 * @param keepsHost whether the program is told the public name; proxies that are not told to keep it write their own
 */
export async function startProxy({ keepsHost }: { keepsHost: boolean }): Promise<Proxy> {
  let port = 0
  const passOn = (req: IncomingMessage, res: ServerResponse) => {
    const { host } = req.headers
    const headers = Object.entries(req.headers).filter(([name]) => !OF_THE_CONNECTION.has(name))
    const asked = request({
      ...{ host: '127.0.0.1', port, method: req.method, path: req.url, agent: false },
      headers: {
        ...Object.fromEntries(headers),
        host: keepsHost ? host : `127.0.0.1:${port}`,
        'x-forwarded-for': req.socket.remoteAddress,
        'x-forwarded-proto': 'https',
        'x-forwarded-host': host,
      },
    })
    asked.on('response', (answer) => {
      res.writeHead(answer.statusCode ?? 502, answer.rawHeaders.filter(notOfTheConnection))
      answer.pipe(res)
    })
    asked.on('error', () => (res.headersSent ? res.destroy() : res.writeHead(502).end()))
    res.on('close', () => asked.destroy())
    req.pipe(asked)
  }
  const server = createServer(await certificate(), passOn)
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  return {
    port: (server.address() as AddressInfo).port,
    leadTo: (own) => void (port = own),
    close: () => {
      const closed = new Promise<void>((resolve) => server.close(() => resolve()))
      server.closeAllConnections()
      return closed
    },
  }
}

/** Names and values stand in one list, by turns. */
const notOfTheConnection = (_word: string, at: number, all: readonly string[]) =>
  !OF_THE_CONNECTION.has((all[at - (at % 2)] ?? '').toLowerCase())
