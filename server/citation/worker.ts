import { fileURLToPath } from 'node:url'
import { parentPort } from 'node:worker_threads'
import { readBibtex, readRis, writeBibtex, writeRis } from './exchange.ts'
import { createPrinter } from './print.ts'
import type { CiteAnswers, CiteTask } from './task.ts'

// The thread of the citation library: it loads slowly and works slowly, so it does neither where requests are answered.
const printer = createPrinter(fileURLToPath(new URL('../server/citation/styles', import.meta.url)))

function answer(task: CiteTask): CiteAnswers[CiteTask['kind']] {
  switch (task.kind) {
    case 'read':
      return task.format === 'bibtex' ? readBibtex(task.text) : readRis(task.text)
    case 'write':
      return task.format === 'bibtex' ? writeBibtex(task.items) : writeRis(task.items)
    case 'print':
      return printer.print(task.style, task.jobs)
    case 'list':
      return printer.list(task.style, task.items)
  }
}

parentPort?.on('message', ({ id, task }: { id: number; task: CiteTask }) => {
  try {
    parentPort?.postMessage({ id, answer: answer(task) })
  } catch (error) {
    parentPort?.postMessage({ id, problem: error instanceof Error ? error.message : String(error) })
  }
})
