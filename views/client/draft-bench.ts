import { benchOf } from '../../shared/draft/edit/bench.ts'
import type { Turn } from '../../shared/draft/edit/turn-edit.ts'
import { act } from './draft-bench/actions.ts'
import { listenToChecks } from './draft-bench/checks.ts'
import { listenToColours } from './draft-bench/colours.ts'
import { type Desk, openDesk } from './draft-bench/desk.ts'
import { keepWorkingCopy, type Opened } from './draft-bench/keep.ts'
import { type Hand, listenToKeys, listenToUndo } from './draft-bench/keys.ts'
import { localShelves } from './draft-bench/local-copy.ts'
import { listenToMarking } from './draft-bench/marking.ts'
import { listenToPointer } from './draft-bench/pointer.ts'
import { listenToRevision } from './draft-bench/revision.ts'
import { sayMark } from './draft-bench/say.ts'
import { listenToText } from './draft-bench/text-box.ts'
import { listenToThreading } from './draft-bench/threading.ts'
import { listenToTwist } from './draft-bench/untwist.ts'
import { showBand } from './draft-bench/band.ts'

/** The draft bench. Without script its page leads to the form, which does the same more slowly. */
const root = document.querySelector<HTMLElement>('[data-bench]')
const plain = document.querySelector<HTMLElement>('[data-bench-plain]')
if (root && plain) void open(root, plain)

async function open(root: HTMLElement, plain: HTMLElement): Promise<void> {
  const why = plain.querySelector('[data-bench-why]')
  try {
    const answer = await fetch(`${root.dataset.base}/copy.json`)
    if (!answer.ok) throw new Error(`copy.json answered ${answer.status}`)
    start(root, (await answer.json()) as Opened)
    plain.hidden = true
  } catch (error) {
    if (why) why.textContent = 'The draft could not be laid on the bench. Load the page again, or change it by form.'
    root.hidden = true
    throw error
  }
}

function start(root: HTMLElement, opened: Opened): void {
  const desk = openDesk(benchOf(opened.document))
  root.hidden = false
  const hand = handOf(root)
  const band = showBand(root, desk)
  for (const pane of band.panes.bands) listenToPointer(pane, band.grid, desk, hand, band.show)
  listenToKeys(band.grid, desk, hand, band.show)
  listenToUndo(desk)
  tellStates(root, desk)
  listenToThreading(root, desk)
  listenToChecks(root, desk)
  const shelves = localShelves(root.dataset.base!, root.dataset.whose!)
  const keeper = keepWorkingCopy(root, desk, opened, shelves.copies)
  listenToRevision(root, desk, keeper, opened.newest, shelves.note)
  const words: Readonly<Record<string, () => void>> = {
    ...band.sizing,
    ...listenToMarking(root, desk),
    ...listenToText(root, desk, shelves),
    ...listenToTwist(root, desk),
    ...listenToColours(root, desk),
    undo: () => desk.undo(),
    redo: () => desk.redo(),
  }
  root.addEventListener('click', (event) => {
    const word = (event.target as Element).closest<HTMLElement>('[data-do]')?.dataset.do
    if (word === undefined) return
    if (Object.hasOwn(words, word)) words[word]!()
    else act(desk, word, (which) => timesOf(root, which))
  })
}

function handOf(root: HTMLElement): Hand {
  const packs = root.querySelector<HTMLInputElement>('[data-bench-packs]')!
  const letters = root.querySelector<HTMLInputElement>('[data-bench-letters]')!
  const brush = (): Turn | undefined => {
    const value = root.querySelector<HTMLInputElement>('input[name="brush"]:checked')!.value
    return value === 'mark' ? undefined : (Number(value) as Turn)
  }
  // A hand that paints takes the finger's drag; one that marks leaves it to scrolling.
  const reach = () => root.classList.toggle('is-painting', brush() !== undefined)
  for (const one of root.querySelectorAll('input[name="brush"]')) one.addEventListener('change', reach)
  reach()
  return { brush, packs: () => packs.checked, letters: () => letters.checked }
}

/** What lies under the cursor, what was done, and what can be taken back, in words. */
function tellStates(root: HTMLElement, desk: Desk): void {
  const here = root.querySelector<HTMLElement>('[data-bench-here]')!
  const told = root.querySelector<HTMLElement>('[data-bench-told]')!
  const lead = document.querySelector('[data-bench-lead]')
  const undo = root.querySelector<HTMLButtonElement>('[data-do="undo"]')!
  const redo = root.querySelector<HTMLButtonElement>('[data-do="redo"]')!
  const show = () => {
    here.textContent = sayMark(desk)
    const { done, undone } = desk.history
    undo.setAttribute('aria-disabled', String(!done))
    redo.setAttribute('aria-disabled', String(!undone))
    undo.title = done ? `Take back: ${done.edit.label}` : 'Nothing to take back'
    redo.title = undone ? `Do again: ${undone.edit.label}` : 'Nothing to do again'
    const { tablets, picks } = desk.bench.turning
    if (lead)
      lead.textContent = `${tablets} ${tablets === 1 ? 'tablet' : 'tablets'}, ${picks} ${picks === 1 ? 'pick' : 'picks'}`
  }
  let due = 0
  desk.listen((news) => {
    if (news.kind === 'edit' || news.kind === 'mark') due ||= requestAnimationFrame(() => ((due = 0), show()))
    if (news.kind === 'told') {
      told.textContent = news.text
      here.dataset.told = news.text
    }
  })
  show()
}

function timesOf(root: HTMLElement, which: string): number | undefined {
  const field = root.querySelector<HTMLInputElement>(`[data-bench-times="${which}"]`)!
  const typed = Number(field.value)
  const read = Number.isInteger(typed) && typed >= 1 ? typed : undefined
  if (read === undefined) field.setAttribute('aria-invalid', 'true')
  else field.removeAttribute('aria-invalid')
  return read
}
