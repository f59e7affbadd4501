import { bandWindow, picksInBox } from '../../../shared/loom/band-window.ts'
import { type Loom, type LoomView, viewAt } from '../../../shared/loom/view.ts'
import type { ToldRun } from '../../../shared/loom/told-pick.ts'

/** Smaller than this nobody reads at arm's length: what is cut off stands in full for screen readers. */
const LEAST_PX = 14
const STEP_PX = 2

const text = (root: HTMLElement, name: string, value: string): void => {
  const place = root.querySelector(`[data-${name}]`)
  if (place && place.textContent !== value) place.textContent = value
}

/** Writes one place into the page that the server made, in its own elements. */
export function showPlace(root: HTMLElement, loom: Loom, place: number, sizePx: number): LoomView {
  const view = viewAt(loom, place)
  text(root, 'pick', String(view.pick))
  text(root, 'pick-words', view.pickWords)
  text(root, 'repeat', view.repeatWords)
  text(root, 'ahead', view.ahead)
  text(root, 'packs', view.packs)
  text(root, 'twist', view.twist)
  text(root, 'reversal', view.reversal)
  root.querySelector('.loom-twist')?.classList.toggle('loom-now', view.reversesNow)
  root.querySelector('[data-runs]')?.replaceChildren(...view.runs.flatMap((run) => [runElement(run), ' ']))
  root.querySelector('[data-next]')?.replaceChildren(
    ...view.next.map(({ number, runs }) => {
      const item = document.createElement('li')
      item.append(Object.assign(document.createElement('span'), { textContent: number }), ` ${runs}`)
      return item
    }),
  )
  for (const input of root.querySelectorAll<HTMLInputElement>('[data-from]')) input.value = String(place)
  const wrong = root.querySelector<HTMLAnchorElement>('[data-recover]')
  const { picks } = loom.weaving.turning
  if (wrong) wrong.href = `${wrong.dataset.recover ?? ''}${place === 0 ? 1 : ((place - 1) % picks) + 1}`
  fitRuns(root, sizePx)
  showBand(root, loom, place)
  const words = view.runs.map(({ count, word }) => `${count} ${word}`).join(', ')
  text(root, 'spoken', `Pick ${view.pick}: ${words}. ${view.reversesNow ? view.reversal : ''}`)
  return view
}

function runElement({ count, turn, word }: ToldRun): HTMLElement {
  const run = document.createElement('span')
  run.className = `loom-run loom-turn-${turn}`
  const letter = document.createElement('span')
  letter.setAttribute('aria-hidden', 'true')
  letter.textContent = turn
  const said = document.createElement('span')
  said.className = 'visually-hidden'
  said.textContent = ` ${word}, `
  run.append(Object.assign(document.createElement('b'), { textContent: String(count) }), letter, said)
  return run
}

/** The counts in the size that was asked for, or as large as they fit. */
function fitRuns(root: HTMLElement, sizePx: number): void {
  const runs = root.querySelector<HTMLElement>('[data-runs]')
  if (!runs) return
  for (let px = sizePx; px >= LEAST_PX; px -= STEP_PX) {
    runs.style.fontSize = `${px}px`
    // Letters reach a little out of their lines; a line that is cut off is more than that.
    const isWhole = runs.scrollHeight <= runs.clientHeight + px * 0.3 && runs.scrollWidth <= runs.clientWidth + 1
    if (isWhole) return
  }
}

/** Drawn anew for the room that is left to it. */
function showBand(root: HTMLElement, loom: Loom, place: number): void {
  const box = root.querySelector<HTMLElement>('[data-band]')
  if (!box) return
  const shown = picksInBox(loom.weaving.turning.tablets, box.clientWidth, box.clientHeight)
  // Our own picture, whose every text is escaped where it is drawn.
  box.innerHTML = bandWindow(loom.weaving, place, shown, 'loom')
}
