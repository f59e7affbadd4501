/** What this browser lets the page do by itself; what it does not is said on the page. */
export interface Alone {
  /** The page opens without the notebook. */
  readonly opens: boolean
  readonly staysAwake: boolean
}

/**
 * Keeps the page for when there is no network, and the screen awake: on https and on this machine alone.
 * @param worker address of the service worker
 * @param path of the loom page, which is all that it answers for
 */
export async function standAlone(worker: string, path: string, tell: (alone: Alone) => void): Promise<void> {
  let alone: Alone = { opens: false, staysAwake: false }
  const change = (more: Partial<Alone>) => tell((alone = { ...alone, ...more }))
  change({})
  if (!isSecureContext) return
  void keepAwake((staysAwake) => change({ staysAwake }))
  if (!('serviceWorker' in navigator) || worker === '') return
  try {
    const registration = await navigator.serviceWorker.register(worker, { scope: path })
    const active = registration.active ?? (await whenActive(registration))
    active.postMessage({ keep: [location.pathname, ...loadedAssets()] })
    navigator.serviceWorker.addEventListener('message', ({ data }: MessageEvent<{ kept?: boolean }>) => {
      if (data.kept === true) change({ opens: true })
    })
  } catch {
    // A browser that refuses, or is full: the page says that it does not open by itself.
  }
}

function whenActive(registration: ServiceWorkerRegistration): Promise<ServiceWorker> {
  const worker = registration.installing ?? registration.waiting
  return new Promise((resolve, reject) => {
    if (!worker) return reject(new Error('No worker is being installed'))
    worker.addEventListener('statechange', () => {
      if (worker.state === 'activated') resolve(worker)
      else if (worker.state === 'redundant') reject(new Error('The worker was not installed'))
    })
  })
}

/** Styles, scripts and fonts that this page has loaded. */
const loadedAssets = () =>
  performance
    .getEntriesByType('resource')
    .map(({ name }) => name)
    .filter((name) => name.startsWith(`${location.origin}/`) && name.includes('/assets/'))

/** A browser lets go of the lock whenever the page is hidden. */
async function keepAwake(tell: (isAwake: boolean) => void): Promise<void> {
  if (!('wakeLock' in navigator)) return
  const ask = async () => {
    if (document.visibilityState !== 'visible') return
    try {
      const lock = await navigator.wakeLock.request('screen')
      tell(true)
      lock.addEventListener('release', () => tell(false))
    } catch {
      tell(false)
    }
  }
  document.addEventListener('visibilitychange', () => void ask())
  await ask()
}
