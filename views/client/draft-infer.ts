import { readColourText } from '../../shared/draft/entry/colour-text.ts'
import type { InferProgress, InferResult } from '../../shared/draft/infer/infer.ts'
import { readKnown } from '../../shared/draft/infer/known-text.ts'
import { readObserved } from '../../shared/draft/infer/observed-text.ts'
import { type InferRequest, listRequestProblems } from '../../shared/draft/infer/request.ts'
import { sayCount } from '../../shared/draft/number-words.ts'

/**
 * Works the draft out in the browser, with progress and a way to stop, and sends what was found along with the form, so
 * that the server only has to show it. Whatever cannot be read here goes to the server as without script.
 */
const form = document.querySelector<HTMLFormElement>('form[data-infer]')
if (form) start(form)

/** More than this the form does not carry; then the server works it out once more. */
const LONGEST_ANSWER = 400_000

function start(form: HTMLFormElement): void {
  const box = form.querySelector<HTMLElement>('[data-infer-progress]')
  const said = form.querySelector<HTMLElement>('[data-infer-said]')
  const bar = form.querySelector<HTMLProgressElement>('[data-infer-bar]')
  const cancel = form.querySelector<HTMLButtonElement>('[data-infer-cancel]')
  const script = form.dataset.inferWorker
  if (!box || !said || !bar || !cancel || !script) return
  let worker: Worker | undefined

  const stop = (message: string) => {
    worker?.terminate()
    worker = undefined
    said.textContent = message
    bar.hidden = true
    cancel.hidden = true
  }
  const send = (result: InferResult | undefined) => {
    form.querySelector('input[name="answer"]')?.remove()
    const answer = result?.ok ? JSON.stringify(result.inference) : ''
    if (answer !== '' && answer.length < LONGEST_ANSWER) {
      const field = document.createElement('input')
      Object.assign(field, { type: 'hidden', name: 'answer', value: answer })
      form.append(field)
    }
    // Without the event, so that it is not caught again.
    form.submit()
  }

  form.addEventListener('submit', (event) => {
    if (worker) return event.preventDefault()
    const asked = readForm(form)
    if (!asked) return
    event.preventDefault()
    box.hidden = bar.hidden = cancel.hidden = false
    const tablets = asked.request.tablets.length
    said.textContent = `Working out ${sayCount(tablets, 'tablet')} in this browser.`
    worker = new Worker(script, { type: 'module' })
    worker.addEventListener('message', ({ data }: MessageEvent<{ progress?: InferProgress; result?: InferResult }>) => {
      if (data.progress) bar.value = data.progress.done / data.progress.tablets
      if (data.result) send(data.result)
    })
    worker.addEventListener('error', () => send(undefined))
    worker.postMessage(asked)
  })
  cancel.addEventListener('click', () => stop('Stopped. Nothing was lost; ask again when you like.'))
}

/** What the form asks; undefined where something in it cannot be read: the server says what. */
function readForm(form: HTMLFormElement): { request: InferRequest; title: string } | undefined {
  const data = new FormData(form)
  const text = (name: string) => {
    const value = data.get(name)
    return typeof value === 'string' ? value.replace(/\r\n?/g, '\n') : ''
  }
  const { colours, problems } = readColourText(text('colours'))
  const observed = readObserved(text('observed'), colours)
  if (problems.length > 0 || !observed.ok) return undefined
  const known = readKnown(text('known'), observed.observed.cells[0]!.length, colours)
  const float = text('longestFloat').trim()
  const weft = text('weft').trim().toLowerCase() || Object.keys(colours)[0]!
  if (!known.ok || !/^\d{0,5}$/.test(float)) return undefined
  const request: InferRequest = {
    ...{ colours, weft, tablets: known.tablets, observed: observed.observed },
    require: {
      closes: text('closes') !== '',
      twistNeutral: text('twistNeutral') !== '',
      ...(float === '' ? {} : { longestFloat: Number(float) }),
    },
  }
  return listRequestProblems(request).length > 0 ? undefined : { request, title: text('title').trim() }
}
