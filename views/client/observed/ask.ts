import type { Answer, Ask } from './message.ts'

/** Asks the worker; the answer comes by promise, a refusal as its sentence. */
export function askWorker(address: string): (ask: Ask, transfer?: Transferable[]) => Promise<unknown> {
  const worker = new Worker(address, { type: 'module' })
  const waiting = new Map<number, { resolve: (answer: unknown) => void; reject: (error: Error) => void }>()
  let last = 0
  worker.addEventListener('message', ({ data }: MessageEvent<Answer>) => {
    const one = waiting.get(data.id)
    waiting.delete(data.id)
    if (data.failed === undefined) one?.resolve(data.answer)
    else one?.reject(new Error(data.failed))
  })
  worker.addEventListener('error', () => {
    for (const { reject } of waiting.values()) reject(new Error('the picture could not be worked on'))
    waiting.clear()
  })
  return (ask, transfer = []) =>
    new Promise((resolve, reject) => {
      const id = ++last
      waiting.set(id, { resolve, reject })
      worker.postMessage({ ...ask, id }, transfer)
    })
}
