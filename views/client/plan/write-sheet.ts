import type { Shown, ShownRow } from '../../../shared/plan/say.ts'
import type { Sheet } from '../../../shared/plan/sheet.ts'

/** Writes a sheet into the page that the server made, in its own elements; what somebody has opened stays open. */
export function writeSheet(root: HTMLElement, sheet: Sheet): void {
  writeFigures(root, sheet.figures)
  writeTables(root, (key) => sheet[key as keyof Sheet] as readonly ShownRow[])
  writeSays(root, (key) => sheet.says[key as keyof Sheet['says']])
  for (const [at, row] of [...root.querySelectorAll('[data-assumes] > div')].entries()) {
    const assumption = sheet.assumptions[at]
    setText(row.querySelector('dd > span'), assumption?.text ?? '')
    row.querySelector('dd > a')?.setAttribute('href', `#f-${assumption?.field ?? ''}`)
  }
  writeChart(root, sheet.chart)
}

/** The large numbers, each in the place that its key names. */
export function writeFigures(root: HTMLElement, figures: Readonly<Record<string, Shown>>): void {
  for (const [key, figure] of Object.entries(figures)) {
    const place = root.querySelector(`[data-figure="${key}"]`)
    const old = place?.querySelector<HTMLElement>(':scope > .shown')
    if (old) writeShown(old, figure)
  }
}

/** Every table; one without rows is hidden. */
export function writeTables(root: HTMLElement, rowsOf: (key: string) => readonly ShownRow[]): void {
  for (const body of root.querySelectorAll<HTMLElement>('tbody[data-rows]')) {
    const key = body.dataset.rows ?? ''
    const rows = rowsOf(key)
    writeRows(body, rows)
    setHidden(root.querySelector(`[data-wrap="${key}"]`), rows.length === 0)
  }
}

/** Sentences; one that says nothing is hidden. */
export function writeSays(root: HTMLElement, saidOf: (key: string) => string): void {
  for (const place of root.querySelectorAll<HTMLElement>('[data-says]')) {
    const said = saidOf(place.dataset.says ?? '')
    setText(place, said)
    setHidden(place, said === '')
  }
}

function writeRows(body: HTMLElement, rows: readonly ShownRow[]): void {
  const old = [...body.children] as HTMLElement[]
  const isSame = old.length === rows.length && rows.every(({ key }, at) => old[at]!.dataset.key === key)
  if (!isSame) {
    const labels = [...(body.closest('table')?.querySelectorAll('thead th') ?? [])].map(
      (head) => head.textContent ?? '',
    )
    return body.replaceChildren(...rows.map((row) => rowNode(row, labels)))
  }
  for (const [at, row] of rows.entries()) {
    const [head, ...cells] = old[at]!.children
    setText(head!.querySelector('span'), row.head)
    for (const [index, cell] of row.cells.entries()) writeShown(cells[index]!.firstElementChild as HTMLElement, cell)
  }
}

function rowNode(row: ShownRow, labels: readonly string[]): HTMLElement {
  const node = element('tr', '')
  node.dataset.key = row.key
  const head = element('th', '')
  head.setAttribute('scope', 'row')
  if (row.hex !== '') head.append(swatch(row.hex), ' ')
  head.append(element('span', '', row.head))
  node.append(head)
  for (const [at, cell] of row.cells.entries()) {
    const place = element('td', '')
    place.dataset.label = labels[at + 1] ?? ''
    place.append(shownNode(cell))
    node.append(place)
  }
  return node
}

function shownNode({ text, how, field }: Shown): HTMLElement {
  if (how === '') return element('span', 'shown', text)
  const node = element('details', 'shown')
  node.append(element('summary', '', text), element('p', 'shown-how', how))
  if (field !== '') {
    const link = element('a', 'shown-field', 'change')
    link.setAttribute('href', `#f-${field}`)
    node.append(link)
  }
  return node
}

function writeShown(node: HTMLElement, shown: Shown): void {
  const isOpenable = node.tagName === 'DETAILS'
  if (isOpenable !== (shown.how !== '')) return node.replaceWith(shownNode(shown))
  if (!isOpenable) return setText(node, shown.text)
  setText(node.querySelector('summary'), shown.text)
  setText(node.querySelector('.shown-how'), shown.how)
  node.querySelector('.shown-field')?.setAttribute('href', `#f-${shown.field}`)
}

/** Parsed as XML, never as HTML. */
function writeChart(root: HTMLElement, svg: string): void {
  const place = root.querySelector('[data-chart]')
  setHidden(root.querySelector('[data-chart-figure]'), svg === '')
  if (svg === '') return place?.replaceChildren()
  const parsed = new DOMParser().parseFromString(svg, 'image/svg+xml')
  place?.replaceChildren(document.importNode(parsed.documentElement, true))
}

function element(name: string, className: string, text = ''): HTMLElement {
  const node = document.createElement(name)
  if (className !== '') node.className = className
  if (text !== '') node.textContent = text
  return node
}

function swatch(hex: string): SVGElement {
  const space = 'http://www.w3.org/2000/svg'
  const node = document.createElementNS(space, 'svg')
  node.setAttribute('class', 'swatch')
  node.setAttribute('viewBox', '0 0 10 10')
  node.setAttribute('aria-hidden', 'true')
  const square = document.createElementNS(space, 'rect')
  for (const [name, value] of [
    ['width', '10'],
    ['height', '10'],
    ['fill', hex],
  ] as const)
    square.setAttribute(name, value)
  node.append(square)
  return node
}

/** Text that is the same is left alone: a screen reader would tell it again. */
export function setText(node: Element | null, text: string): void {
  if (node && node.textContent !== text) node.textContent = text
}

export function setHidden(node: Element | null, isHidden: boolean): void {
  node?.toggleAttribute('hidden', isHidden)
}
