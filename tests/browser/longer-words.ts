import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { openWindow } from '../support/browser.ts'
import { launchChromium } from '../support/chromium.ts'
import { startReached, type Reached } from '../support/reach.ts'
import { PATHS } from './paths.ts'

/**
 * Every page as it might look in a language of longer words: each text four tenths longer, with accents above and below,
 * and once more written from right to left. No page scrolls sideways, and nothing is cut off. `npm run modes` looks; for
 * `npm test` it would be every page once more.
 */
let browser: Browser
let server: Reached
let page: Page
beforeAll(async () => {
  server = await startReached({ demo: true })
  browser = await launchChromium()
  page = (await openWindow(browser)).page
})
afterAll(async () => {
  await browser?.close()
  await server?.stop()
})

/** Words by people and figures are let be: only what a translator would write grows. */
const LENGTHEN = `(() => {
  const ACCENTS = { a: 'á', e: 'ę', i: 'ï', o: 'ø', u: 'ů', n: 'ñ', s: 'ş', c: 'ç', A: 'Å', E: 'Ë', I: 'Ï', O: 'Ô', S: 'Ş' }
  const longer = (text) => {
    const words = text.trim()
    if (!/[a-z]{2}/i.test(words)) return text
    const accented = words.replace(/[aeiounscAEIOS]/g, (letter) => ACCENTS[letter])
    // Short words, so that it is the line that grows: a word that is longer than any line is another matter.
    const more = 'øñę ' .repeat(Math.ceil(words.length * 0.1)).slice(0, Math.ceil(words.length * 0.4)).trim()
    return text.replace(words, () => accented + ' ' + more)
  }
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT)
  const texts = []
  while (walker.nextNode()) texts.push(walker.currentNode)
  for (const text of texts)
    if (!text.parentElement.closest('script, style, textarea, svg, pre, code, .figures')) text.data = longer(text.data)
})()`

/** What hides a part of its words, and what is wider than the page. */
const CUT = `(() => {
  const found = []
  const say = (element, what) => {
    const classes = typeof element.className === 'string' && element.className ? '.' + element.className.trim().replace(/\\s+/g, '.') : ''
    found.push(what + ': ' + element.localName + classes + ' “' + element.textContent.trim().replace(/\\s+/g, ' ').slice(0, 50) + '”')
  }
  // What only a screen reader is to find is cut on purpose.
  const isForEars = (element) => element !== null && (getComputedStyle(element).clipPath !== 'none' || isForEars(element.parentElement))
  const isShown = (element) => element.checkVisibility() && !isForEars(element) && !element.closest('.skip')
  if (document.documentElement.scrollWidth > innerWidth) {
    found.push('the page is ' + document.documentElement.scrollWidth + ' wide')
    for (const element of document.querySelectorAll('main *, header *, footer *')) {
      const { left, right } = element.getBoundingClientRect()
      const inside = element.parentElement.closest('[tabindex="0"]')
      if ((right > innerWidth + 1 || left < -1) && !inside && isShown(element) && found.length < 8) say(element, 'sticks out')
    }
  }
  for (const element of document.querySelectorAll('body *')) {
    if (element.closest('svg, canvas') || !isShown(element) || !/[a-z]{2}/i.test(element.textContent)) continue
    const style = getComputedStyle(element)
    const hides = [style.overflowX, style.overflowY].some((each) => each === 'hidden' || each === 'clip')
    if (hides && (element.scrollWidth > element.clientWidth + 1 || element.scrollHeight > element.clientHeight + 1)) say(element, 'is cut')
    // What stands in the line has no width of its own to be cut to.
    if (element.matches('button, .button') && (element.scrollWidth > element.clientWidth + 1 || element.scrollHeight > element.clientHeight + 1))
      say(element, 'is a button that is cut')
  }
  return [...new Set(found)]
})()`

const SHAPES = [
  [1280, 'ltr'],
  [360, 'ltr'],
  [360, 'rtl'],
  [1280, 'rtl'],
] as const

describe('with words of 140 %, from left to right and from right to left', () => {
  test.each(PATHS)(
    '/%s does not scroll sideways, and nothing of it is cut',
    async (path) => {
      await page.setViewportSize({ width: 1280, height: 900 })
      await page.goto(server.url + path)
      await page.evaluate(LENGTHEN)
      const faults: string[] = []
      for (const [width, direction] of SHAPES) {
        await page.setViewportSize({ width, height: 900 })
        await page.evaluate(`document.documentElement.dir = '${direction}'`)
        faults.push(...(await page.evaluate<string[]>(CUT)).map((fault) => `${width} ${direction} ${fault}`))
      }
      expect(faults).toEqual([])
    },
    60_000,
  )
})
