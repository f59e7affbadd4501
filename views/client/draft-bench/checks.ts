import { listCheckLines, MOST_CHECKED_TURNS } from '../../../shared/draft/entry/check-line.ts'
import { type BriefLine, tellBriefly } from '../../../shared/draft/tell/brief-tell.ts'
import type { Desk } from './desk.ts'

/** Up to so many turns the checks follow at every pause; a longer draft is looked over when nothing was done for a while. */
const QUICK_TURNS = 40_000
const PAUSE_MS = 250
const LONG_PAUSE_MS = 1500

/** What the draft's page says as well, kept up to date. */
export function listenToChecks(root: HTMLElement, desk: Desk): void {
  const place = root.querySelector<HTMLElement>('[data-bench-checks]')!
  let due = 0
  const show = () => {
    const { shown, live } = desk
    const { turning } = desk.bench
    const list = document.createElement('ul')
    list.className = 'draft-checks'
    for (const { verdict, label, text } of listCheckLines(shown, turning, live.woven)) {
      const item = document.createElement('li')
      item.className = `draft-check-${verdict}`
      const name = document.createElement('span')
      name.className = 'draft-check-label'
      name.textContent = label
      item.append(name, ` ${text}`)
      list.append(item)
    }
    const brief = turning.turns.length <= MOST_CHECKED_TURNS ? tellBriefly(shown, turning, live.woven) : []
    place.replaceChildren(facts(brief), list)
  }
  desk.listen(({ kind }) => {
    if (kind !== 'edit') return
    clearTimeout(due)
    due = setTimeout(
      show,
      desk.bench.turning.turns.length <= QUICK_TURNS ? PAUSE_MS : LONG_PAUSE_MS,
    ) as unknown as number
  })
  show()
}

function facts(brief: readonly BriefLine[]): HTMLElement {
  const list = document.createElement('dl')
  list.className = 'facts'
  for (const { label, text } of brief) {
    const [term, told] = [document.createElement('dt'), document.createElement('dd')]
    term.textContent = label
    told.textContent = text
    list.append(term, told)
  }
  return list
}
