import { marked } from 'marked'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { startApp } from '../../support/start.ts'
import { launchChromium } from '../../support/chromium.ts'
import { isFormula } from './cells.ts'
import { PAYLOADS } from './payloads.ts'
import { openDetector, type Detector } from './target.ts'
import { openWatched } from './watched.ts'

let browser: Browser
let detector: Detector
beforeAll(async () => {
  browser = await launchChromium()
  detector = await openDetector(await browser.newPage())
})
afterAll(() => browser.close())

/** How a page looks that forgot to escape, in each place where words stand. */
const CARELESS: readonly ((text: string) => string)[] = [
  (text) => `<p>${text}</p>`,
  (text) => `<input value="${text}">`,
  (text) => `<input value='${text}'>`,
  (text) => `<input value=${text}>`,
  (text) => `<a href="${text}">x</a>`,
  (text) => `<title>${text}</title>`,
  (text) => `<textarea>${text}</textarea>`,
  (text) => `<select><option>${text}</option></select>`,
  (text) => `<script>var words = "${text}"</script>`,
  (text) => `<pre><code>${text}</code></pre>`,
  (text) => String(marked.parse(text, { async: false })),
]

describe('findLive(text)', () => {
  test('finds every payload alive in a page that forgot to escape it somewhere', async () => {
    const missed: string[] = []
    for (const { text } of PAYLOADS) {
      const found = await detector.findLiveIn(CARELESS.map((page) => [page(text), 'text/html'] as const))
      if (found.every((each) => each.length === 0)) missed.push(text)
    }
    expect(missed).toEqual([])
  })

  test.each([
    ['<p onclick=x>', 'a handler'],
    ['<a href=" java\tscript:x">', 'an address that runs'],
    ['<a href="//evil.test">', 'an address elsewhere'],
    ['<a href="https://evil.test">', 'an address elsewhere'],
    ['<form action="https://evil.test">', 'an address elsewhere'],
    ['<img src="https://evil.test/x.png">', 'an address elsewhere'],
    ['<p style="color:red">', 'a style'],
    ['<script src="/assets/x.js?v=1">x</script>', 'a script of its own'],
    ['<meta http-equiv=refresh content=0>', 'a header in the page'],
    ['<p title=x"onclick>', ''],
    ['<p x"y>', 'out of an attribute'],
    ['<a id=xclobber>', 'a name that shadows'],
    ['<svg><foreignObject></svg>', 'an element that no page has'],
  ])('says of %s: %s', async (text, what) => {
    expect((await detector.findLive(text)).join(' ')).toContain(what)
  })

  test('says nothing of what our templates write, and of a picture that cannot be parsed that it cannot', async () => {
    const { get } = startApp()
    for (const path of ['/', '/sources/new', '/drafts/new', '/colophon'])
      expect(await detector.findLive((await get(path)).text)).toEqual([])
    const link = '<a href="https://example.org" rel="nofollow noopener noreferrer">x</a>'
    expect(await detector.findLive(link)).toEqual([])
    expect(await detector.findLive('<svg xmlns="http://www.w3.org/2000/svg"><g></svg>', 'image/svg+xml')).toContain(
      'it cannot be parsed',
    )
  })
})

describe('openWatched(browser, origin, as)', () => {
  const ORIGIN = 'http://careless.test'
  const open = async (csp: string, text: string) => {
    const watched = await openWatched(browser, ORIGIN, 'owner')
    const headers = { 'content-type': 'text/html', ...(csp && { 'content-security-policy': csp }) }
    await watched.context.route('**/*', (route) => route.fulfill({ headers, body: `<!doctype html><p>${text}</p>` }))
    await watched.page.goto(`${ORIGIN}/`)
    await watched.page.waitForTimeout(50)
    const seen = (await watched.seen()).join('\n')
    await watched.context.close()
    return seen
  }

  test.each(['<script>xss()</script>', '<img src=/x onerror=xss()>', '<svg onload=xss()>'])(
    'sees that %s runs on a page without a content policy, and with ours that it is refused',
    async (text) => {
      const csp = (await startApp().get('/')).headers['content-security-policy'] ?? ''
      const bare = await open('', text)
      expect(bare).toContain('a payload ran')
      expect(bare).toContain('a dialog')
      const shut = await open(csp, text)
      expect(shut).not.toContain('a payload ran')
      expect(shut).toContain('refused by the content policy: script-src')
    },
  )

  test('sees what is asked of somebody else', async () => {
    expect(await open('', '<img src="http://evil.test/x.png">')).toContain('asked http://evil.test/x.png')
  })
})

test.each([
  ['=1+1', true],
  ['-1+1', true],
  ['＝1', true],
  ['@x', true],
  ['\t=1', true],
  ['-13.5', false],
  ["'=1", false],
  ['words', false],
])('isFormula(%j) is %s', (cell, expected) => {
  expect(isFormula(cell)).toBe(expected)
})
