import { convertEntry } from '../../shared/draft/convention/convert-entry.ts'
import { type DraftEntry, readDraftEntry, type ReadDraftEntry } from '../../shared/draft/entry/draft-entry.ts'
import { sayEntry } from '../../shared/draft/entry/say-entry.ts'
import { showChecks } from './draft/check-list.ts'
import { livePicture } from './draft/live-picture.ts'
import { cardIn } from './draft/card-now.ts'
import { showProblems } from './draft/problem-list.ts'
import { addSwatches } from './draft/swatches.ts'

/** The form of a draft draws what it weaves while one types. The server's own picture stands there without script. */
const form = document.querySelector<HTMLFormElement>('form[data-draft-edit]')
if (form) start(form)

/** A screen reader is told what came of the typing when the typing pauses, not at every key. */
const PAUSE_MS = 1000

function start(form: HTMLFormElement): void {
  const area = (name: string) => form.querySelector<HTMLTextAreaElement>(`textarea[name="${name}"]`)
  const [colours, threading, turning] = [area('colours'), area('threading'), area('turning')]
  const weft = form.querySelector<HTMLInputElement>('input[name="weft"]')
  const title = form.querySelector<HTMLInputElement>('input[name="title"]')
  const summary = form.querySelector<HTMLElement>('[data-draft-summary]')
  if (!colours || !threading || !turning || !weft || !summary) return

  const showSwatches = addSwatches(colours)
  const showPicture = livePicture(form)
  const entryNow = (): DraftEntry => ({
    title: title?.value ?? '',
    colours: colours.value,
    weft: weft.value,
    threading: threading.value,
    turning: turning.value,
  })
  let last = ''
  let frame = 0
  let pause: ReturnType<typeof setTimeout> | undefined

  const settle = (read: ReadDraftEntry) => {
    const said = threading.value.trim() === '' ? 'Nothing is drawn yet.' : sayEntry(read)
    if (summary.textContent !== said) summary.textContent = said
    showChecks(form, read)
  }
  const update = () => {
    frame = 0
    const entry = entryNow()
    const card = cardIn(form)
    const words = JSON.stringify([entry, card])
    if (words === last) return
    last = words
    const typed = readDraftEntry(entry)
    const read = card ? convertEntry(typed, card) : typed
    const problems = read.ok ? [] : read.problems
    for (const one of [colours, threading, turning]) {
      showProblems(
        one,
        problems.filter(({ field }) => field === one.name),
      )
    }
    showSwatches()
    showPicture(read.ok ? read : read.begun, read.ok)
    clearTimeout(pause)
    pause = setTimeout(() => settle(read), PAUSE_MS)
  }
  const schedule = () => {
    frame ||= requestAnimationFrame(update)
  }
  form.addEventListener('input', schedule)
  // A page that comes back from the browser's history holds what was typed, without an event that says so.
  addEventListener('pageshow', schedule)
  schedule()
}
