import { keptOf } from './observed/kept.ts'
import { openPhotograph } from './observed/open.ts'
import { placing } from './observed/placing.ts'
import { reading } from './observed/reading.ts'
import { askWorker } from './observed/ask.ts'
import { pixelsOf } from './observed/picture.ts'

/** Reads the cells of a band off a photograph. Without script they are typed into the form that stands below. */
const root = document.querySelector<HTMLElement>('[data-observed]')
const form = document.querySelector<HTMLFormElement>('form[data-observed-form]')
if (root && form) start(root, form)

function start(root: HTMLElement, form: HTMLFormElement): void {
  const canvas = root.querySelector<HTMLCanvasElement>('[data-canvas]')
  const address = root.dataset.worker
  if (!canvas || !address) return
  root.hidden = false
  const ask = askWorker(address)
  const kept = keptOf(form)
  let isFirst = true
  const place = placing(root, form, canvas, ask)
  const cells = reading(root, form, { ask, marks: place.marks, picture: () => canvas })
  const show = (step: string) => {
    const section = root.querySelector<HTMLElement>(`[data-step="${step}"]`)
    if (section) section.hidden = false
  }
  place.onMoved(() => cells.stale())
  cells.onRead(() => show('cells'))
  openPhotograph(root, form, canvas, async () => {
    const data = pixelsOf(canvas)
    await ask({ what: 'picture', width: canvas.width, height: canvas.height, data }, [data])
    for (const step of ['place', 'colours', 'lengths']) show(step)
    const isKept = isFirst && kept?.photoId === form.querySelector<HTMLInputElement>('[data-photo-field]')?.value
    isFirst = false
    place.begin(isKept ? kept : undefined)
    cells.clear()
    if (isKept && kept) await cells.readKept(kept)
  })
}
