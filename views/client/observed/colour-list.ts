import { COLOUR_KEY } from '../../../shared/draft/document-shape.ts'
import type { NamedColour } from '../../../shared/observed/name-colours.ts'
import type { LookAgain } from '../../../shared/observed/look-again.ts'
import type { FoundColour } from '../../../shared/observed/read-colours.ts'

export interface ColourList {
  readonly show: (
    found: readonly FoundColour[],
    named: readonly NamedColour[],
    doubts: readonly (LookAgain | undefined)[],
  ) => void
  /** As they stand in the list; a key that cannot be one counts as none. */
  readonly now: () => NamedColour[]
}

/** The colours found, with a swatch, and a key and a name that can be changed. */
export function colourList(list: HTMLElement, changed: () => void): ColourList {
  const now = (): NamedColour[] =>
    [...list.querySelectorAll('li')].map((row) => {
      const value = (name: string) => row.querySelector<HTMLInputElement>(`[data-${name}]`)?.value.trim() ?? ''
      const key = value('key').toLowerCase()
      return { key: COLOUR_KEY.test(key) ? key : null, name: value('name') || key || 'none' }
    })
  const show: ColourList['show'] = (found, named, doubts) => {
    list.replaceChildren(...found.map((colour, at) => row(colour, named[at]!, at)))
    doubts.forEach((doubt, at) => {
      if (doubt) list.children[at]?.append(doubted(doubt, named[doubt.nearest]!.name, (key) => setKey(at, key)))
    })
    mark()
  }
  /** To none, or to the key that another one has by now. */
  const setKey = (at: number, from: number | undefined) => {
    const fieldAt = (place: number) => list.children[place]?.querySelector<HTMLInputElement>('[data-key]')
    const field = fieldAt(at)
    if (!field) return
    field.value = from === undefined ? '' : (fieldAt(from)?.value ?? '')
    field.focus()
    field.dispatchEvent(new Event('input', { bubbles: true }))
  }
  /** Two colours under one key are one colour in the face: said, for it may be meant. */
  const mark = () => {
    const keys = now().map(({ key }) => key)
    list.querySelectorAll('li').forEach((item, at) => {
      const said = item.querySelector('[data-said]')
      const words = keys[at] === null ? 'no thread: left as not legible' : ''
      const twice = keys[at] !== null && keys.indexOf(keys[at]!) !== at ? 'joined with the one above' : words
      if (said) said.textContent = twice
      const doubt = item.querySelector<HTMLElement>('[data-doubt]')
      if (doubt) doubt.hidden = keys[at] === null || keys.indexOf(keys[at]!) !== keys.lastIndexOf(keys[at]!)
    })
  }
  list.addEventListener('input', () => {
    mark()
    changed()
  })
  return { show, now }
}

function row(found: FoundColour, { key, name }: NamedColour, at: number): HTMLLIElement {
  const item = document.createElement('li')
  const swatch = document.createElement('span')
  swatch.className = 'observed-swatch'
  swatch.style.backgroundColor = found.hex
  const count = document.createElement('span')
  count.className = 'soft'
  count.textContent = `${found.cells.toLocaleString('en-GB')} ${found.cells === 1 ? 'cell' : 'cells'}, ${found.hex}`
  const said = document.createElement('span')
  said.className = 'soft'
  said.dataset.said = ''
  item.append(swatch, field('key', `Key of colour ${at + 1}, empty for no thread`, key ?? '', 8))
  item.append(field('name', `Name of colour ${at + 1}`, name, 60), count, said)
  return item
}

/** What makes it doubtful, and two ways out by one button each. */
function doubted(doubt: LookAgain, nearest: string, setKey: (from: number | undefined) => void): HTMLElement {
  const box = document.createElement('div')
  box.className = 'observed-doubt'
  box.dataset.doubt = ''
  const words = document.createElement('p')
  words.textContent = sayDoubt(doubt)
  const button = (text: string, from: number | undefined) => {
    const one = document.createElement('button')
    one.type = 'button'
    one.className = 'quiet'
    one.textContent = text
    one.addEventListener('click', () => setKey(from))
    return one
  }
  box.append(words, button('Count it as not legible', undefined), button(`Merge it into ${nearest}`, doubt.nearest))
  return box
}

function sayDoubt({ cells, legible, tablets, mostOfTablet, isDark }: LookAgain): string {
  const [few, all] = [cells, legible].map((count) => count.toLocaleString('en-GB'))
  const look = isDark ? 'dark' : 'of hardly any hue'
  const most = Math.max(1, Math.round(100 * mostOfTablet))
  return `Look again: ${few} of ${all} legible cells, spread over ${tablets} tablets, ${look}, and at most ${most} % of any tablet, where a thread in one hole of four shows in about 25 %. Soil, a hole or a shadow, perhaps.`
}

function field(part: 'key' | 'name', label: string, value: string, most: number): HTMLInputElement {
  const input = document.createElement('input')
  input.setAttribute('aria-label', label)
  input.setAttribute(`data-${part}`, '')
  input.className = `observed-${part}`
  input.maxLength = most
  input.autocomplete = 'off'
  input.autocapitalize = 'none'
  input.spellcheck = false
  input.placeholder = part === 'key' ? 'none' : ''
  input.value = value
  return input
}
