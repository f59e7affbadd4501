import { once } from 'node:events'
import { createServer } from 'node:http'
import { connect, type AddressInfo } from 'node:net'
import express from 'express'
import { describe, expect, test } from 'vitest'
import { allowSlowBody, timelyBody } from '../../server/guard.ts'

/** Sends half a body to a server that never answers and gives bodies 50 ms, but for those to `/slow`. */
async function sendHalf(path: string): Promise<'cut off' | 'waited for'> {
  const app = express()
  app.use(timelyBody(50))
  app.post('/quick', () => undefined)
  app.post('/slow', (_req, res) => allowSlowBody(res))
  const server = createServer(app).listen(0, '127.0.0.1')
  await once(server, 'listening')
  const socket = connect((server.address() as AddressInfo).port, '127.0.0.1')
  socket.on('error', () => undefined)
  socket.write(`POST ${path} HTTP/1.1\r\nHost: localhost\r\nContent-Length: 100\r\n\r\nhalf`)
  const cutOff = once(socket, 'close').then(() => 'cut off' as const)
  // Ten times the limit for the one that must not end; the other ends the wait itself, however late.
  const waited = new Promise<'waited for'>((resolve) => {
    if (path === '/slow') setTimeout(() => resolve('waited for'), 500)
  })
  const what = await Promise.race([cutOff, waited])
  socket.destroy()
  server.close()
  return what
}

describe('timelyBody(withinMs)', () => {
  test('ends a request whose body does not come', async () => {
    expect(await sendHalf('/quick')).toBe('cut off')
  })

  test('waits where allowSlowBody(res) was called', async () => {
    expect(await sendHalf('/slow')).toBe('waited for')
  })
})
