import { listCheckLines } from '../../../shared/draft/entry/check-line.ts'
import type { ReadDraftEntry } from '../../../shared/draft/entry/draft-entry.ts'
import { weave } from '../../../shared/draft/weave.ts'

/** The checks beside the form, once all of the draft can be read; the same lines as in `parts/draft-checks`. */
export function showChecks(form: HTMLFormElement, read: ReadDraftEntry): void {
  const place = form.querySelector('[data-draft-checks]')
  if (!place) return
  if (!read.ok) return place.replaceChildren()
  const list = document.createElement('ul')
  list.className = 'draft-checks'
  for (const { verdict, label, text } of listCheckLines(read.draft, read.turning, weave(read.draft, read.turning))) {
    const item = document.createElement('li')
    item.className = `draft-check-${verdict}`
    const name = document.createElement('span')
    name.className = 'draft-check-label'
    name.textContent = label
    item.append(name, ` ${text}`)
    list.append(item)
  }
  place.replaceChildren(list)
}
