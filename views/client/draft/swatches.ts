import { readColourText } from '../../../shared/draft/entry/colour-text.ts'

/** Beside the typed colours a swatch each, which opens the browser's own colour chooser and writes its line. */
export function addSwatches(area: HTMLTextAreaElement): () => void {
  const row = document.createElement('div')
  row.className = 'draft-choosers'
  area.after(row)
  let shownKeys = ''
  return () => {
    const { colours } = readColourText(area.value)
    const entries = Object.entries(colours)
    const keys = entries.map(([key]) => key).join(' ')
    if (keys !== shownKeys) {
      shownKeys = keys
      row.replaceChildren(...entries.map(([key]) => chooser(area, key)))
    }
    entries.forEach(([key, { name, hex }], at) => {
      const input = row.children[at]?.querySelector('input')
      if (!input) return
      if (input.value !== hex) input.value = hex
      input.setAttribute('aria-label', `Colour of ${name === key ? key : `${key}, ${name}`}`)
    })
  }
}

function chooser(area: HTMLTextAreaElement, key: string): HTMLElement {
  const label = document.createElement('label')
  const input = document.createElement('input')
  input.type = 'color'
  input.addEventListener('input', () => {
    area.value = withHex(area.value, key, input.value)
    area.dispatchEvent(new Event('input', { bubbles: true }))
  })
  label.append(input, key)
  return label
}

/** The colours' text with another hex colour on the line of a key. */
function withHex(text: string, key: string, hex: string): string {
  const lines = text.split('\n')
  const at = lines.findIndex((line) => line.trim().split(/\s/)[0]?.toLowerCase() === key)
  const line = lines[at]
  if (line === undefined) return text
  lines[at] = /#\S*\s*$/.test(line) ? line.replace(/#\S*\s*$/, hex) : `${line.trimEnd()} ${hex}`
  return lines.join('\n')
}
