import { connect } from 'node:net'
import { utimesSync, writeFileSync, existsSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { makeDataDir } from '../support/start.ts'
import { startServer, type Running } from '../support/server.ts'
import { listKept, makeJpeg, WORDS } from './send.ts'

const dataDir = makeDataDir()
let server: Running
beforeAll(async () => {
  server = await startServer({ dataDir })
  await postForm('/originals', new URLSearchParams({ name: 'Fen band' }))
})
afterAll(() => server.stop())

const postForm = (path: string, body: URLSearchParams | FormData) =>
  fetch(new URL(path, server.url), {
    ...{ method: 'POST', body, redirect: 'manual' },
    headers: { Origin: new URL(server.url).origin },
  })

/** Sends the head of an upload and the first bytes of its body, then breaks off. */
async function breakOff(body: Buffer, part: number): Promise<void> {
  const { host, port, hostname } = new URL(server.url)
  const socket = connect(Number(port), hostname)
  const head = [
    ...['POST /originals/1/photos HTTP/1.1', `Host: ${host}`, `Origin: http://${host}`],
    ...['Content-Type: multipart/form-data; boundary=xx', `Content-Length: ${body.length}`],
  ]
  socket.write(`${head.join('\r\n')}\r\n\r\n`)
  await new Promise<void>((resolve) => socket.write(body.subarray(0, body.length * part), () => resolve()))
  // Until the server has begun to write what it was sent.
  await until(() => part === 0 || listKept(dataDir).some((path) => path.includes('/staging/')))
  const closed = new Promise((resolve) => socket.once('close', resolve))
  socket.destroy()
  await closed
}

async function until(isSo: () => boolean): Promise<void> {
  for (let tries = 0; !isSo(); tries += 1) {
    if (tries > 400) throw new Error('it never came')
    await new Promise((resolve) => setTimeout(resolve, 25))
  }
}

describe('the program as a process of its own', () => {
  test.each([0.1, 0.5, 0.99])('an upload that breaks off after %d of its body leaves nothing', async (part) => {
    const file = Buffer.alloc(8_000_000, 0xff)
    const open = Buffer.from('--xx\r\nContent-Disposition: form-data; name="photo"; filename="a.jpg"\r\n\r\n')
    await breakOff(Buffer.concat([open, file, Buffer.from('\r\n--xx--\r\n')]), part)
    await until(() => listKept(dataDir).length === 0)
    expect((await fetch(new URL('/originals/1', server.url))).status).toBe(200)
  })

  test('keeps a photograph of several megabytes as one that may: who asks is known through the whole upload', async () => {
    const noise = Buffer.alloc(3_000_000).map((_, at) => (at * 7919) % 251)
    const file = Buffer.concat([await makeJpeg({ width: 2000, height: 1500 }), noise])
    const form = new FormData()
    for (const [name, value] of Object.entries(WORDS)) form.set(name, value)
    form.set('photo', new Blob([file], { type: 'image/jpeg' }), 'a.jpg')
    const answers = await Promise.all([
      postForm('/originals/1/photos', form),
      ...[1, 2, 3].map(() => fetch(new URL('/originals/1', server.url))),
    ])
    expect(answers.map(({ status }) => status)).toEqual([303, 200, 200, 200])
    const sent = await fetch(new URL('/photos/1/original', server.url))
    expect(Buffer.from(await sent.arrayBuffer()).equals(file)).toBe(true)
  })

  test('that is more than a hundred megabytes is refused by its length', async () => {
    const { host, port, hostname } = new URL(server.url)
    const socket = connect(Number(port), hostname)
    const head = `POST /originals/1/photos HTTP/1.1\r\nHost: ${host}\r\nOrigin: http://${host}\r\nContent-Type: multipart/form-data; boundary=xx\r\nContent-Length: 200000000\r\n\r\n`
    let answer = ''
    socket.on('data', (chunk) => (answer += chunk.toString()))
    const ended = new Promise((resolve) => socket.once('close', resolve))
    socket.write(head)
    await ended
    expect(answer).toMatch(/^HTTP\/1\.1 413 /)
  })

  test('takes away at its start what was half written long ago, and no photograph', async () => {
    const [old, young] = ['upload-old', 'upload-young'].map((name) => join(dataDir, 'staging', name)) as [
      string,
      string,
    ]
    writeFileSync(old, 'half')
    writeFileSync(young, 'half')
    const longAgo = new Date(Date.now() - 2 * 3_600_000)
    utimesSync(old, longAgo, longAgo)
    await server.stop()
    server = await startServer({ dataDir })
    expect(existsSync(old)).toBe(false)
    expect(existsSync(young)).toBe(true)
    expect((await fetch(new URL('/photos/1/1280.jpg', server.url))).status).toBe(200)
  })
})
