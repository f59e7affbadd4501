import type { Response } from 'express'
import { fileURLToPath } from 'node:url'
import { Worker } from 'node:worker_threads'
import type { FaceComparison } from '../shared/draft/compare-faces.ts'
import type { ColourKey } from '../shared/draft/draft.ts'
import type { InferResult } from '../shared/draft/infer/infer.ts'
import type { InferRequest } from '../shared/draft/infer/request.ts'
import { HttpError } from './errors.ts'

type Grid = readonly (readonly (ColourKey | null)[])[]

/** What is worked out beside the thread that answers requests. */
export type OffThreadTask =
  | { readonly kind: 'infer'; readonly request: InferRequest; readonly title: string }
  | { readonly kind: 'compare'; readonly a: Grid; readonly b: Grid }

/** Two work, for more would take the processor from everybody else; some wait; the rest are told to come again. */
const AT_ONCE = 2
const MOST_WAITING = 8
const LONGEST_MS = 60_000

const FILE = fileURLToPath(new URL('../dist/worker.js', import.meta.url))

let working = 0
const waiting: (() => void)[] = []

/**
 * Works out a draft from an observed face on a thread of its own.
 * @param signal ends the work when whoever asked is gone
 * @throws HttpError 503 when too many wait, or it took too long
 */
export const inferOffThread = (request: InferRequest, title: string, signal: AbortSignal): Promise<InferResult> =>
  runOffThread({ kind: 'infer', request, title }, signal) as Promise<InferResult>

/** Lays two faces over each other on a thread of its own; see `inferOffThread`. */
export const compareOffThread = (a: Grid, b: Grid, signal: AbortSignal): Promise<FaceComparison> =>
  runOffThread({ kind: 'compare', a, b }, signal) as Promise<FaceComparison>

async function runOffThread(task: OffThreadTask, signal: AbortSignal): Promise<unknown> {
  await takeTurn(signal)
  try {
    return await runWorker(task, signal)
  } finally {
    working--
    waiting.shift()?.()
  }
}

async function takeTurn(signal: AbortSignal): Promise<void> {
  if (working >= AT_ONCE) {
    if (waiting.length >= MOST_WAITING) {
      throw new HttpError(503, 'Too many drafts are being worked out just now; please try again in a moment.')
    }
    await new Promise<void>((resolve, reject) => {
      waiting.push(resolve)
      signal.addEventListener(
        'abort',
        () => {
          const at = waiting.indexOf(resolve)
          if (at < 0) return
          waiting.splice(at, 1)
          reject(new Gone())
        },
        { once: true },
      )
    })
  }
  working++
}

/** Whoever asked is gone: nobody is there to read an answer. */
class Gone extends Error {}

/**
 * Does the work until whoever asked has gone.
 * @returns undefined when they have: then there is nothing to answer
 */
export async function untilGone<T>(res: Response, work: (signal: AbortSignal) => Promise<T>): Promise<T | undefined> {
  const gone = new AbortController()
  const leave = () => gone.abort()
  res.once('close', leave)
  try {
    return await work(gone.signal)
  } catch (error) {
    if (error instanceof Gone) return undefined
    throw error
  } finally {
    res.off('close', leave)
  }
}

function runWorker(task: OffThreadTask, signal: AbortSignal): Promise<unknown> {
  return new Promise((resolve, reject) => {
    if (signal.aborted) return reject(new Gone())
    const worker = new Worker(FILE, { workerData: task, resourceLimits: { maxOldGenerationSizeMb: 1024 } })
    const end = (settle: () => void) => {
      clearTimeout(timer)
      signal.removeEventListener('abort', leave)
      void worker.terminate()
      settle()
    }
    const leave = () => end(() => reject(new Gone()))
    const timer = setTimeout(() => {
      const message = `This took longer than the ${LONGEST_MS / 1000} seconds that one draft may take; please try fewer picks or ask less of it.`
      end(() => reject(new HttpError(503, message)))
    }, LONGEST_MS)
    signal.addEventListener('abort', leave, { once: true })
    worker.once('message', (answer) => end(() => resolve(answer)))
    worker.once('error', (error) => end(() => reject(error)))
    worker.once('exit', (code) => end(() => reject(new Error(`The worker ended with ${code} and no answer`))))
  })
}
