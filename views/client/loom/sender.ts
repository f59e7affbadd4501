import { nextToSend, type KeptStep, waitMs } from '../../../shared/loom/queue.ts'
import type { Standing } from '../../../shared/loom/view.ts'
import type { Keeper } from './keeper.ts'

/** Where the sending stands, for the page to say. */
export type Sending = 'sent' | 'away' | 'signedOut' | 'refused'

interface Answer {
  readonly now: string
  readonly latest: Standing | null
  readonly revision: number | null
}

export interface Told {
  readonly state: Sending
  /** Why a step was refused. */
  readonly why: string
  readonly revision: number | null | undefined
  /** A later step that another device made. */
  readonly elsewhere: Standing | undefined
}

/** How often a page that is looked at asks where the work stands. */
const ASK_MS = 15_000
const GIVE_UP_MS = 15_000

/**
 * Sends what is kept, one message after the other, and asks where the work stands; tries again when the network or the
 * page comes back, and after a while that doubles.
 * @param path of the loom page
 * @returns a function that sends at once
 */
export function startSending(path: string, keeper: Keeper, tell: (told: Told) => void): () => void {
  let isSending = false
  let isWaiting = false
  let failures = 0
  let pause: ReturnType<typeof setTimeout> | undefined

  const later = (ms: number) => {
    clearTimeout(pause)
    pause = setTimeout(() => void run(), ms)
  }
  async function run(): Promise<void> {
    if (isSending) return void (isWaiting = true)
    isSending = true
    isWaiting = false
    const steps = nextToSend(keeper.pending())
    const told = await sendOnce(path, keeper, steps)
    isSending = false
    failures = told.state === 'sent' || told.state === 'refused' ? 0 : failures + 1
    tell(told)
    if (failures > 0) return later(waitMs(failures))
    if (isWaiting || keeper.pending().length > 0) return void run()
    later(ASK_MS)
  }
  const now = () => {
    // A browser that sleeps runs no timers; whatever woke it may have brought the network back.
    if (document.visibilityState === 'visible') void run()
  }
  addEventListener('online', now)
  addEventListener('pageshow', now)
  document.addEventListener('visibilitychange', now)
  return () => void run()
}

async function sendOnce(path: string, keeper: Keeper, steps: readonly KeptStep[]): Promise<Told> {
  const nothing = { why: '', revision: undefined, elsewhere: undefined }
  const began = Date.now()
  let answer: Response
  try {
    answer = await fetch(`${path}/steps`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify({ device: keeper.device, sentAt: new Date(began).toISOString(), steps }),
      redirect: 'manual',
      signal: AbortSignal.timeout(GIVE_UP_MS),
    })
    if (answer.type === 'opaqueredirect' || [401, 403, 404].includes(answer.status))
      return { ...nothing, state: 'signedOut' }
    if (answer.status === 422) return { ...nothing, ...refuse(keeper, steps, (await answer.json()) as Refusal) }
    if (!answer.ok) return { ...nothing, state: 'away' }
    const { now, latest, revision } = (await answer.json()) as Answer
    keeper.settle(steps)
    // The server looked at its clock somewhere between the two.
    const elsewhere = keeper.learn(latest, Date.parse(now) - (began + Date.now()) / 2)
    return { state: 'sent', why: '', revision, elsewhere }
  } catch {
    return { ...nothing, state: 'away' }
  }
}

interface Refusal {
  readonly path: string
  readonly why: string
}

/** One step that the server cannot read shall not hold up the others. */
function refuse(keeper: Keeper, steps: readonly KeptStep[], { path, why }: Refusal): Pick<Told, 'state' | 'why'> {
  const at = Number(/^steps\[(\d+)\]/.exec(path)?.[1] ?? 0)
  const step = steps[at]
  if (step) keeper.settle([step], true)
  return { state: step ? 'refused' : 'away', why: `${path}: ${why}` }
}
