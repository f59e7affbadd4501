import { MOST_CHECKED_TURNS } from '../../../shared/draft/entry/check-line.ts'
import type { Desk } from './desk.ts'
import { type LookedOver, lookOver } from './look-over.ts'

/** Up to so many turns the checks are made here, at a pause; a longer draft is looked over beside the page. */
const QUICK_TURNS = 20_000
const PAUSE_MS = 250
const LONG_PAUSE_MS = 800

/** What the draft's page says as well, kept up to date. */
export function listenToChecks(root: HTMLElement, desk: Desk): void {
  const place = root.querySelector<HTMLElement>('[data-bench-checks]')!
  let due = 0
  let worker: Worker | undefined
  let busy = false
  let again = false

  const isQuick = () => {
    const { length } = desk.bench.turning.turns
    return length <= QUICK_TURNS || length > MOST_CHECKED_TURNS
  }
  const askBeside = () => {
    if (busy) return void (again = true)
    worker ??= startWorker(root.dataset.worker!, (looked) => {
      busy = false
      if (!isQuick()) show(place, looked)
      if (again) askBeside()
    })
    ;[busy, again] = [true, false]
    worker.postMessage({ draft: desk.shown, turning: desk.bench.turning })
  }
  const look = () => (isQuick() ? show(place, lookOver(desk.shown, desk.bench.turning, desk.live.woven)) : askBeside())
  desk.listen(({ kind }) => {
    if (kind !== 'edit') return
    clearTimeout(due)
    due = setTimeout(look, isQuick() ? PAUSE_MS : LONG_PAUSE_MS) as unknown as number
  })
  look()
}

function startWorker(address: string, hear: (looked: LookedOver) => void): Worker {
  const worker = new Worker(address, { type: 'module' })
  worker.addEventListener('message', ({ data }: MessageEvent<LookedOver>) => hear(data))
  return worker
}

function show(place: HTMLElement, { facts, checks }: LookedOver): void {
  const short = document.createElement('dl')
  short.className = 'facts'
  for (const { label, text } of facts) {
    const [term, told] = [document.createElement('dt'), document.createElement('dd')]
    term.textContent = label
    told.textContent = text
    short.append(term, told)
  }
  const list = document.createElement('ul')
  list.className = 'draft-checks'
  for (const { verdict, label, text } of checks) {
    const item = document.createElement('li')
    item.className = `draft-check-${verdict}`
    const name = document.createElement('span')
    name.className = 'draft-check-label'
    name.textContent = label
    item.append(name, ` ${text}`)
    list.append(item)
  }
  place.replaceChildren(short, list)
}
