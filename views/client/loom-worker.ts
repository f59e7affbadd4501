/**
 * Keeps one loom page with its styles, scripts and fonts for when there is no network; it answers for nothing else. What
 * the notebook says comes first: a page that it refuses is thrown away here too.
 */
interface PageEvent {
  readonly request: Request
  respondWith(answer: Promise<Response>): void
}
interface MessageFromPage {
  readonly data: { readonly keep?: readonly string[] }
  readonly source: { postMessage(message: unknown): void } | null
  waitUntil(work: Promise<unknown>): void
}
interface Worker {
  readonly registration: { readonly scope: string }
  readonly clients: { claim(): Promise<void> }
  skipWaiting(): Promise<void>
  addEventListener(type: 'fetch', then: (event: PageEvent) => void): void
  addEventListener(type: 'message', then: (event: MessageFromPage) => void): void
  addEventListener(
    type: 'install' | 'activate',
    then: (event: { waitUntil(work: Promise<unknown>): void }) => void,
  ): void
}
const worker = globalThis as unknown as Worker

const page = new URL(worker.registration.scope).pathname
const openCache = () => caches.open(`fellmark-loom ${page}`)
/** Longer than this nobody at a loom waits for a page that lies here. */
const WAIT_MS = 4_000

worker.addEventListener('install', (event) => event.waitUntil(worker.skipWaiting()))
worker.addEventListener('activate', (event) => event.waitUntil(worker.clients.claim()))

worker.addEventListener('message', (event) => {
  const { keep } = event.data
  if (!keep) return
  event.waitUntil(
    keepAll(keep)
      .then(() => event.source?.postMessage({ kept: true }))
      .catch(() => undefined),
  )
})

worker.addEventListener('fetch', (event) => {
  const { request } = event
  const { pathname, origin } = new URL(request.url)
  if (request.method !== 'GET' || origin !== new URL(worker.registration.scope).origin) return
  if (request.mode === 'navigate' && pathname === page) event.respondWith(answerPage(request))
  else if (pathname.includes('/assets/')) event.respondWith(answerAsset(request))
})

async function keepAll(addresses: readonly string[]): Promise<void> {
  const cache = await openCache()
  const wanted = new Set(addresses.map((address) => new URL(address, worker.registration.scope).href))
  for (const request of await cache.keys()) if (!wanted.has(request.url)) await cache.delete(request)
  for (const address of wanted) {
    const isPage = new URL(address).pathname === page
    if (!isPage && (await cache.match(address))) continue
    const answer = await fetch(address)
    if (!answer.ok || answer.redirected) throw new Error(`${address} is not to be had`)
    await cache.put(isPage ? page : address, answer)
  }
}

async function answerPage(request: Request): Promise<Response> {
  const kept = await (await openCache()).match(page)
  const fresh = fetch(request).then((answer) => takeOver(answer, kept))
  if (!kept) return fresh
  const late = new Promise<Response>((resolve) => setTimeout(() => resolve(kept.clone()), WAIT_MS))
  return Promise.race([fresh.catch(() => kept.clone()), late])
}

async function takeOver(answer: Response, kept: Response | undefined): Promise<Response> {
  if (answer.ok && !answer.redirected) {
    const copy = answer.clone()
    void openCache()
      .then((cache) => cache.put(page, copy))
      .catch(() => undefined)
    return answer
  }
  if (answer.status >= 500 && kept) return kept.clone()
  // Signed out, or not a maker of the piece any more: nothing of it stays.
  if (answer.status < 500) await caches.delete(`fellmark-loom ${page}`)
  return answer
}

/** The address of an asset changes with its content, so what lies here is right. */
async function answerAsset(request: Request): Promise<Response> {
  const cache = await openCache()
  return (await cache.match(request)) ?? fetch(request)
}

export {}
