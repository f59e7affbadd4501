import { request as plainRequest } from 'node:http'
import type { AddressInfo } from 'node:net'
import { connect } from 'node:net'
import request from 'supertest'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { startApp } from '../support/start.ts'

const HOST = 'localhost:4180'
const SOURCE = { title: 'Bands of the Fen', people: '', year: '', kind: 'book' }

describe('every answer', () => {
  const started = startApp()
  const broken = startApp()
  broken.db.close()

  test.each([
    ['a page', () => started.get('/sources/new'), 200],
    ['a style sheet', () => started.get('/assets/style.css'), 200],
    ['an asset that is not there', () => started.get('/assets/none.css'), 404],
    ['a page that is not there', () => started.get('/nowhere'), 404],
    ['an address that cannot be read', () => started.get('/sources/%E0%A4%A'), 400],
    ['a redirect', () => started.post('/sources', SOURCE), 303],
    ['a form shown again', () => started.post('/sources', {}), 422],
    ['a refusal', () => request(started.app).post('/sources').set('Host', HOST), 403],
    ['an unknown host', () => request(started.app).get('/').set('Host', 'bands.example.org'), 421],
    ['a breakdown', () => broken.get('/sources/1'), 500],
  ])('has the safety headers: %s', async (_what, ask, status) => {
    const { headers, status: answered } = await ask()
    expect(answered).toBe(status)
    const csp = headers['content-security-policy'] ?? ''
    expect(csp).toContain("default-src 'none'")
    expect(csp).toContain("script-src 'self';")
    expect(csp).toContain("style-src 'self';")
    expect(csp).toContain("frame-ancestors 'none'")
    expect(csp).not.toMatch(/unsafe|upgrade-insecure-requests|\*/)
    expect(headers['referrer-policy']).toBe('same-origin')
    expect(headers['x-content-type-options']).toBe('nosniff')
    expect(headers['x-frame-options']).toBe('DENY')
    expect(headers).not.toHaveProperty('strict-transport-security')
    expect(headers).not.toHaveProperty('x-powered-by')
  })

  test('is kept for ever when it is an asset, and never when it is a page', async () => {
    expect((await started.get('/assets/style.css')).headers['cache-control']).toContain('immutable')
    expect((await started.get('/sources/new')).headers['cache-control']).toBe('no-store')
  })
})

describe('POST from elsewhere', () => {
  test.each([
    ['no Origin', undefined],
    ['the Origin null', 'null'],
    ['a foreign Origin', 'http://bands.example.org'],
    ['our name at another port', 'http://localhost:9999'],
    ['our name over another scheme', 'https://localhost:4180'],
    ['our name with more behind it', 'http://localhost:4180.example.org'],
  ])('with %s is refused and changes nothing', async (_what, origin) => {
    const { app, db } = startApp()
    const sent = request(app).post('/sources').set('Host', HOST).type('form')
    if (origin !== undefined) sent.set('Origin', origin)
    const answer = await sent.send(SOURCE)
    expect(answer.status).toBe(403)
    expect(answer.text).toContain('This form was not sent from a page of this notebook, so nothing was changed.')
    expect(db.all(db.sql.selectFrom('source').select('id'))).toEqual([])
  })

  test('with a foreign Referer and our own Origin is taken: the Origin decides', async () => {
    const { post } = startApp()
    expect((await post('/sources', SOURCE).set('Referer', 'http://bands.example.org/')).status).toBe(303)
  })
})

describe('the Host', () => {
  test.each(['localhost:4180', 'LOCALHOST', '127.0.0.1:80', '127.9.8.7', '[::1]:4180', 'notebook.localhost'])(
    '%s is ours',
    async (host) => {
      expect((await request(startApp().app).get('/sources/new').set('Host', host)).status).toBe(200)
    },
  )

  test.each([
    'bands.example.org',
    'localhost.example.org',
    '127.0.0.1.example.org',
    '10.0.0.7',
    '',
    'localhost:4180@x',
  ])('"%s" is answered with 421', async (host) => {
    const answer = await request(startApp().app).get('/sources/new').set('Host', host)
    // Node itself turns away a request whose Host it cannot read.
    expect([400, 421]).toContain(answer.status)
    expect(answer.text).not.toContain('<form class="form"')
  })

  describe('over a bare connection', () => {
    const server = startApp().app.listen(0, '127.0.0.1')
    beforeAll(() => new Promise<void>((resolve) => (server.listening ? resolve() : server.once('listening', resolve))))
    afterAll(() => new Promise((resolve) => server.close(resolve)))
    const port = () => (server.address() as AddressInfo).port

    const status = (text: string) =>
      new Promise<string>((resolve, reject) => {
        const socket = connect(port(), '127.0.0.1', () => socket.end(text))
        let answer = ''
        socket.on('data', (part) => (answer += part.toString()))
        socket.on('end', () => resolve(answer.split('\r\n')[0] ?? ''))
        socket.on('error', reject)
      })

    test('given twice is refused, whichever comes first', async () => {
      const ask = (first: string, second: string) =>
        status(`GET /sources/new HTTP/1.1\r\nHost: ${first}\r\nHost: ${second}\r\nConnection: close\r\n\r\n`)
      expect(await ask('localhost', 'bands.example.org')).toContain(' 400 ')
      expect(await ask('bands.example.org', 'localhost')).toContain(' 400 ')
      expect(await ask('localhost', 'localhost')).toContain(' 400 ')
    })

    test('that is missing is refused', async () => {
      expect(await status('GET /sources/new HTTP/1.0\r\n\r\n')).toContain(' 421 ')
    })

    const answerTo = (method: string, path: string) =>
      new Promise<{ status: number | undefined; allow: string | undefined }>((resolve, reject) => {
        plainRequest({ port: port(), host: '127.0.0.1', method, path, headers: { Host: HOST } }, (res) => {
          res.resume()
          resolve({ status: res.statusCode, allow: res.headers.allow })
        })
          .on('error', reject)
          .end()
      })

    test.each(['TRACE', 'PUT', 'DELETE', 'PATCH', 'PROPFIND'])('is not asked by %s', async (method) => {
      expect(await answerTo(method, '/sources')).toEqual({ status: 405, allow: 'GET, HEAD, POST' })
    })

    test.each(['/', '/healthz', '/assets/style.css', '/nowhere', '/api/v1/openapi.json', '/api/v1/draft/weave'])(
      'TRACE %s is refused by name, wherever it goes',
      async (path) => {
        expect((await answerTo('TRACE', path)).status).toBe(405)
      },
    )
  })
})

describe('a form that is too much', () => {
  test('over 2 MB is answered with 413 and a sentence, and changes nothing', async () => {
    const { db, post } = startApp()
    const answer = await post('/sources', { ...SOURCE, notes: 'wool '.repeat(450_000) })
    expect(answer.status).toBe(413)
    expect(answer.text).toContain('That was more than is taken in one go (2 MB).')
    expect(db.all(db.sql.selectFrom('source').select('id'))).toEqual([])
  })

  test('in more than 200 fields is answered with 413', async () => {
    const { broken, post } = startApp()
    const fields = Object.fromEntries(Array.from({ length: 201 }, (_, index) => [`field${index}`, '1']))
    expect((await post('/sources', fields)).status).toBe(413)
    expect(broken).toEqual([])
  })

  test.each([
    ['in another charset', 'application/x-www-form-urlencoded; charset=utf-7', undefined],
    ['in an encoding that is unknown', 'application/x-www-form-urlencoded', 'snappy'],
  ])('%s is answered with 415', async (_what, type, encoding) => {
    const { app, broken } = startApp()
    const sent = request(app)
      .post('/sources')
      .set('Host', HOST)
      .set('Origin', `http://${HOST}`)
      .set('Content-Type', type)
    if (encoding) sent.set('Content-Encoding', encoding)
    expect((await sent.send('title=x')).status).toBe(415)
    expect(broken).toEqual([])
  })
})

describe('a form that says it is gzip and is not', () => {
  test('is the sender’s fault, not a breakdown', async () => {
    const { app, broken } = startApp()
    const sent = request(app).post('/sources').set('Host', HOST).set('Origin', `http://${HOST}`).type('form')
    expect((await sent.set('Content-Encoding', 'gzip').send('title=x')).status).toBe(400)
    expect(broken).toEqual([])
  })
})

describe('the error page', () => {
  test('says nothing of what broke, which is told to the log once', async () => {
    const { broken, db, get } = startApp()
    db.close()
    const answer = await get('/sources/1')
    expect(answer.status).toBe(500)
    expect(answer.text).toContain('Something broke on our side.')
    expect(answer.text).not.toMatch(/database connection|TypeError|node_modules|\.ts|\bat \w+/)
    expect(broken).toHaveLength(1)
    expect(String(broken[0])).toContain('The database connection is not open')
  })

  test('repeats nothing of an address that is not there', async () => {
    const answer = await startApp().get('/<script>alert(1)</script>')
    expect(answer.status).toBe(404)
    expect(answer.text).not.toContain('alert(1)')
  })
})
