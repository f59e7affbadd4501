import { COLOUR_KEY } from '../../../shared/draft/document-shape.ts'
import type { NamedColour } from '../../../shared/observed/name-colours.ts'
import type { FoundColour } from '../../../shared/observed/read-colours.ts'

export interface ColourList {
  readonly show: (found: readonly FoundColour[], named: readonly NamedColour[]) => void
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
  const show = (found: readonly FoundColour[], named: readonly NamedColour[]) => {
    list.replaceChildren(...found.map((colour, at) => row(colour, named[at]!, at)))
    mark()
  }
  /** Two colours under one key are one colour in the face: said, for it may be meant. */
  const mark = () => {
    const keys = now().map(({ key }) => key)
    list.querySelectorAll('li').forEach((item, at) => {
      const said = item.querySelector('[data-said]')
      const words = keys[at] === null ? 'no thread: left as not legible' : ''
      const twice = keys[at] !== null && keys.indexOf(keys[at]!) !== at ? 'joined with the one above' : words
      if (said) said.textContent = twice
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
