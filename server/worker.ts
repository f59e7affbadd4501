import { parentPort, workerData } from 'node:worker_threads'
import { compareFaces } from '../shared/draft/compare-faces.ts'
import { inferDraft } from '../shared/draft/infer/infer.ts'
import type { OffThreadTask } from './off-thread.ts'

// The thread of one long computation. It is given its task at the start, answers once and ends.
const task = workerData as OffThreadTask
parentPort?.postMessage(task.kind === 'infer' ? inferDraft(task.request, task.title) : compareFaces(task.a, task.b))
