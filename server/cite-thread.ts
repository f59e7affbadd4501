import { fileURLToPath } from 'node:url'
import { Worker } from 'node:worker_threads'
import type { CiteAnswers, CiteTask } from './citation/task.ts'
import { HttpError } from './errors.ts'

/** One thread for all: the library takes longer to load than to answer. It ends when nothing was asked for a while. */
const IDLE_MS = 120_000
const LONGEST_MS = 30_000
const MOST_WAITING = 20

const FILE = fileURLToPath(new URL('../dist/citation-worker.js', import.meta.url))

interface Waiting {
  readonly task: CiteTask
  readonly resolve: (answer: unknown) => void
  readonly reject: (error: unknown) => void
}

let worker: Worker | undefined
let busy: Waiting | undefined
const queue: Waiting[] = []
let timer: NodeJS.Timeout | undefined

/**
 * Asks the citation library, on its thread; one question after the other.
 * @throws HttpError 503 when too many wait, or it took too long; Error when the library itself failed
 */
export function askCitation<T extends CiteTask>(task: T): Promise<CiteAnswers[T['kind']]> {
  if (queue.length >= MOST_WAITING)
    return Promise.reject(new HttpError(503, 'Too many sources are being read or printed just now; please try again.'))
  return new Promise((resolve, reject) => {
    queue.push({ task, resolve: resolve as (answer: unknown) => void, reject })
    next()
  })
}

function next(): void {
  if (busy) return
  clearTimeout(timer)
  busy = queue.shift()
  if (!busy) {
    timer = setTimeout(() => end(), IDLE_MS)
    timer.unref()
    return
  }
  worker ??= begin()
  // The program waits for an answer, and never for the thread as such.
  worker.ref()
  timer = setTimeout(() => {
    const message = `This took longer than ${LONGEST_MS / 1000} seconds, so it was left; please try with less at once.`
    fail(new HttpError(503, message))
  }, LONGEST_MS)
  worker.postMessage({ id: 0, task: busy.task })
}

function begin(): Worker {
  const made = new Worker(FILE, { resourceLimits: { maxOldGenerationSizeMb: 512 } })
  made.on('message', ({ answer, problem }: { answer?: unknown; problem?: string }) => {
    const asked = busy
    busy = undefined
    made.unref()
    if (problem === undefined) asked?.resolve(answer)
    else asked?.reject(new Error(`The citation library failed: ${problem}`))
    next()
  })
  made.on('error', (error) => made === worker && fail(error))
  made.on('exit', (code) => made === worker && fail(new Error(`The thread of citations ended with ${code}`)))
  return made
}

/** The thread is no good any more: whoever waits for this answer is told, the next question gets a new one. */
function fail(error: unknown): void {
  const asked = busy
  busy = undefined
  end()
  asked?.reject(error)
  next()
}

function end(): void {
  const ended = worker
  worker = undefined
  void ended?.terminate()
}
