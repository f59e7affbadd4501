import type { Browser } from 'playwright-core'

const WATCH = `
  globalThis.happened = []
  globalThis.xss = () => { happened.push('a payload ran'); alert('a payload ran') }
  document.addEventListener('securitypolicyviolation', (event) =>
    happened.push('refused by the content policy: ' + event.violatedDirective + ' ' + event.blockedURI))
`

/** A window in which everything that runs or is refused leaves a line; `seen` says what there was on all its pages. */
export async function openWatched(browser: Browser, origin: string, as: string) {
  const context = await browser.newContext({ extraHTTPHeaders: { 'x-as': as } })
  await context.addInitScript(WATCH)
  const page = await context.newPage()
  const found: string[] = []
  page.on('dialog', (dialog) => {
    found.push(`${page.url()}: a dialog`)
    void dialog.dismiss()
  })
  page.on('request', (request) => {
    if (!request.url().startsWith(origin) && !/^(about|data):/.test(request.url())) found.push(`asked ${request.url()}`)
  })
  const gather = async () => {
    const happened = await page.evaluate<string[]>('globalThis.happened ?? []')
    found.push(...happened.map((what) => `${page.url()}: ${what}`))
  }
  const goto = page.goto.bind(page)
  page.goto = async (...given) => {
    await gather()
    return goto(...given)
  }
  return {
    ...{ page, context },
    seen: async () => {
      await gather()
      return found
    },
  }
}
