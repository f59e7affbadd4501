import type { PlanEntered } from '../../shared/plan/entry.ts'
import type { PlanFacts } from '../../shared/plan/facts.ts'
import { planSheet, type Sheet } from '../../shared/plan/sheet.ts'
import { showFieldProblems } from './plan/field-problems.ts'
import { setHidden, setText, writeSheet } from './plan/write-sheet.ts'

/** The plan of a piece: what one field changes is worked out at once, by the same computation as on the server. */
const root = document.querySelector<HTMLElement>('[data-plan]')
const form = document.querySelector<HTMLFormElement>('#plan-form')
if (root && form && root.dataset.facts) start(root, form, JSON.parse(root.dataset.facts) as PlanFacts)

/** A screen reader is told what came of the typing when the typing pauses. */
const PAUSE_MS = 1000

function start(root: HTMLElement, form: HTMLFormElement, facts: PlanFacts): void {
  const proposal = root.querySelector<HTMLElement>('[data-propose]')
  const now = form.querySelector<HTMLElement>('[data-now]')
  let last = ''
  let frame = 0
  let pause: ReturnType<typeof setTimeout> | undefined
  const enteredNow = () =>
    Object.fromEntries([...new FormData(form)].map(([name, value]) => [name, String(value)])) as unknown as PlanEntered
  const update = () => {
    frame = 0
    const entered = enteredNow()
    const words = JSON.stringify(entered)
    if (words === last) return
    last = words
    const { sheet, problems } = planSheet(entered, facts)
    writeSheet(root, sheet)
    if (proposal) proposal.dataset.propose = sheet.proposed
    setHidden(proposal, sheet.proposed === '')
    clearTimeout(pause)
    pause = setTimeout(() => {
      showFieldProblems(form, problems)
      if (now) sayNow(now, sheet)
    }, PAUSE_MS)
  }
  const schedule = () => {
    frame ||= requestAnimationFrame(update)
  }
  // The button works without script; with one there is nothing left for it to do.
  for (const button of form.querySelectorAll('[data-work]')) setHidden(button, true)
  setHidden(form.querySelector('.plan-first'), true)
  proposal?.querySelector('button')?.addEventListener('click', (event) => {
    event.preventDefault()
    const [borders, reversals] = [form.elements.namedItem('borders'), form.elements.namedItem('reversals')]
    if (!(borders instanceof HTMLSelectElement) || !(reversals instanceof HTMLInputElement)) return
    borders.value = 'reverse'
    reversals.value = proposal.dataset.propose ?? ''
    reversals.focus()
    schedule()
  })
  form.addEventListener('input', schedule)
  // A page that comes back from the browser's history holds what was typed, without an event that says so.
  addEventListener('pageshow', schedule)
}

function sayNow(place: HTMLElement, { figures }: Sheet): void {
  const texts = [figures.warpLength, figures.ends, figures.windingTurns].map(({ text }) => text)
  for (const [at, span] of [...place.querySelectorAll('[data-now-text]')].entries()) setText(span, texts[at] ?? '')
}
