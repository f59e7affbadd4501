import { quoteSheet, type QuoteSheet } from '../../shared/price/quote-sheet.ts'
import { showFieldProblems } from './plan/field-problems.ts'
import { setHidden, setText, writeFigures, writeSays, writeTables } from './plan/write-sheet.ts'

/** A quote: what one field changes is worked out at once, by the same computation as on the server. */
const root = document.querySelector<HTMLElement>('[data-quote]')
const form = document.querySelector<HTMLFormElement>('#quote-form')
if (root && form) start(root, form)

/** A screen reader is told what came of the typing when the typing pauses. */
const PAUSE_MS = 1000

function start(root: HTMLElement, form: HTMLFormElement): void {
  const now = form.querySelector<HTMLElement>('[data-now]')
  let last = ''
  let frame = 0
  let pause: ReturnType<typeof setTimeout> | undefined
  const update = () => {
    frame = 0
    const entered = Object.fromEntries([...new FormData(form)].map(([name, value]) => [name, String(value)]))
    const words = JSON.stringify(entered)
    if (words === last) return
    last = words
    const { sheet, problems } = quoteSheet(entered)
    writeFigures(root, sheet.figures)
    writeTables(root, (key) => rowsOf(sheet, key))
    writeSays(root, (key) => sheet.says[key as keyof QuoteSheet['says']])
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
  form.addEventListener('input', schedule)
  // A page that comes back from the browser's history holds what was typed, without an event that says so.
  addEventListener('pageshow', schedule)
}

type Tables = Pick<QuoteSheet, 'hours' | 'materials' | 'build' | 'asked' | 'wages' | 'payments'>
const rowsOf = (sheet: Tables, key: string) => sheet[key as keyof Tables]

function sayNow(place: HTMLElement, { figures }: QuoteSheet): void {
  const texts = [figures.total, figures.hours, figures.wage].map(({ text }) => text)
  for (const [at, span] of [...place.querySelectorAll('[data-now-text]')].entries()) setText(span, texts[at] ?? '')
}
