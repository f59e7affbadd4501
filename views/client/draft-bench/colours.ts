import { CLOSEST_READABLE, listClashes } from '../../../shared/draft/edit/colour-clash.ts'
import { addColour, nameColour, removeColour, setHexes, setWeft } from '../../../shared/draft/edit/colour-edit.ts'
import type { Desk } from './desk.ts'

const LONGEST_NAME = 100

/** The palette: names, colours tried on the band, the weft, and a warning where two colours read as one. */
export function listenToColours(root: HTMLElement, desk: Desk): Readonly<Record<string, () => void>> {
  const list = root.querySelector<HTMLElement>('[data-bench-colours]')!
  const clashes = root.querySelector<HTMLElement>('[data-bench-clashes]')!
  const take = root.querySelector<HTMLButtonElement>('[data-do="applyTried"]')!
  const drop = root.querySelector<HTMLButtonElement>('[data-do="dropTried"]')!
  let keys = ''

  const show = () => {
    const { bench, shown, tried } = desk
    const now = Object.keys(bench.colours).join()
    if (now !== keys) {
      const hadFocus = list.contains(document.activeElement)
      keys = now
      list.replaceChildren(...Object.keys(bench.colours).map((key) => colourRow(desk, key)))
      // The row that one was in is gone: the keyboard goes on in the last one.
      if (hadFocus) list.lastElementChild?.querySelectorAll('input')[1]?.focus()
    }
    for (const [key, { name, hex }] of Object.entries(shown.colours)) {
      const row = list.querySelector<HTMLElement>(`[data-key="${key}"]`)!
      const [chooser, words, weft] = row.querySelectorAll('input')
      weft!.checked = bench.weft === key
      if (chooser!.value !== hex) chooser!.value = hex
      if (document.activeElement !== words) words!.value = name
      const own = bench.colours[key]!.hex
      row.querySelector('.bench-tried')!.textContent =
        tried[key] && tried[key] !== own ? `tried; the draft has ${own}` : ''
    }
    const some = Object.entries(tried).some(([key, hex]) => bench.colours[key]?.hex !== hex)
    take.disabled = drop.disabled = !some
    showClashes()
  }
  const showClashes = () => {
    const found = listClashes(desk.shown)
    const name = (key: string) => desk.shown.colours[key]!.name || key
    clashes.replaceChildren(
      ...found.slice(0, 5).map(({ one, other, difference }) => {
        const line = document.createElement('p')
        line.className = 'bench-clash'
        line.textContent = `${name(one)} and ${name(other)} lie ${difference.toFixed(1)} apart (CIEDE2000). Under ${CLOSEST_READABLE} the pattern is hard to read: our own limit, by eye; a printed or dyed colour differs from its screen.`
        return line
      }),
    )
  }
  desk.listen(({ kind }) => {
    if (kind === 'edit' || kind === 'tried') show()
  })
  show()

  return {
    addColour() {
      if (desk.make(addColour(desk.bench, { name: 'new colour', hex: '#8b847a' }))) {
        done(desk)
        list.lastElementChild?.querySelectorAll('input')[1]?.focus()
      }
    },
    applyTried() {
      if (desk.make(setHexes(desk.bench, desk.tried))) done(desk)
      desk.setTried({})
    },
    dropTried() {
      desk.setTried({})
      desk.tell('The tried colours are dropped.')
    },
  }
}

function done(desk: Desk): void {
  desk.tell(`Done: ${desk.history.done!.edit.label}.`)
  desk.settle()
}

function colourRow(desk: Desk, key: string): HTMLElement {
  const row = document.createElement('li')
  row.dataset.key = key
  const chooser = document.createElement('input')
  chooser.type = 'color'
  chooser.setAttribute('aria-label', `Try another colour for ${key}`)
  chooser.addEventListener('input', () => desk.setTried({ ...desk.tried, [key]: chooser.value.toLowerCase() }))
  const code = document.createElement('code')
  code.textContent = key
  const words = document.createElement('input')
  words.maxLength = LONGEST_NAME
  words.setAttribute('aria-label', `Name of colour ${key}`)
  words.addEventListener('change', () => {
    if (desk.make(nameColour(desk.bench, key, words.value.trim()))) done(desk)
  })
  const weft = document.createElement('label')
  weft.className = 'bench-tick'
  const tick = document.createElement('input')
  tick.type = 'radio'
  tick.name = 'bench-weft'
  tick.setAttribute('aria-label', `Weft in colour ${key}`)
  tick.addEventListener('change', () => {
    if (desk.make(setWeft(desk.bench, key))) done(desk)
  })
  weft.append(tick, 'weft')
  const out = document.createElement('button')
  out.type = 'button'
  out.className = 'quiet'
  out.textContent = 'Take out'
  out.setAttribute('aria-label', `Take out colour ${key}`)
  out.addEventListener('click', () => {
    if (desk.make(removeColour(desk.bench, key))) done(desk)
  })
  const tried = document.createElement('span')
  tried.className = 'bench-tried'
  row.append(chooser, code, words, weft, out, tried)
  return row
}
