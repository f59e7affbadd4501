import type { EntryProblem } from '../../../shared/draft/entry/draft-entry.ts'

/** Shows the problems of one field of lines beneath its hint; each place leads the caret there. */
export function showProblems(area: HTMLTextAreaElement, problems: readonly EntryProblem[]): void {
  const field = area.closest<HTMLElement>('[data-typed]')
  const list = field?.querySelector('.typed-problems')
  if (!field || !list) return
  // An empty field is not wrong while one is still typing elsewhere.
  const shown = area.value.trim() === '' ? [] : problems.slice(0, 8)
  field.classList.toggle('has-problem', shown.length > 0)
  if (shown.length > 0) area.setAttribute('aria-invalid', 'true')
  else area.removeAttribute('aria-invalid')
  const items = shown.map((problem) => problemItem(area, problem))
  if (problems.length > shown.length && shown.length > 0) items.push(moreItem(problems.length - shown.length))
  list.replaceChildren(...items)
}

function problemItem(area: HTMLTextAreaElement, { line, column, message }: EntryProblem): HTMLLIElement {
  const item = document.createElement('li')
  const place = document.createElement('button')
  place.type = 'button'
  place.className = 'typed-place'
  place.textContent = `Line ${line}, character ${column}`
  place.addEventListener('click', () => moveCaret(area, line, column))
  item.append(place, ` ${message}`)
  return item
}

function moreItem(count: number): HTMLLIElement {
  const item = document.createElement('li')
  item.textContent = `And ${count} more.`
  return item
}

function moveCaret(area: HTMLTextAreaElement, line: number, column: number): void {
  const lines = area.value.split('\n')
  const before = lines.slice(0, line - 1).reduce((sum, one) => sum + one.length + 1, 0)
  const at = Math.min(area.value.length, before + column - 1)
  area.focus()
  area.setSelectionRange(at, at)
  // A textarea scrolls to its caret only when something is typed.
  area.scrollTop = Math.max(0, (line - 4) * (area.scrollHeight / lines.length))
}
