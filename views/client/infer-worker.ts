import { inferSteps } from '../../shared/draft/infer/infer.ts'
import type { InferRequest } from '../../shared/draft/infer/request.ts'

/** Works out one draft beside the page, so that the page stays alive; whoever started it ends it by ending the worker. */
self.addEventListener('message', ({ data }: MessageEvent<{ request: InferRequest; title: string }>) => {
  const steps = inferSteps(data.request, data.title)
  let step = steps.next()
  while (!step.done) {
    self.postMessage({ progress: step.value })
    step = steps.next()
  }
  self.postMessage({ result: step.value })
})
