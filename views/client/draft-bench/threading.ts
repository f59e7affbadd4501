import { type ColourKey, HOLES, type Tablet } from '../../../shared/draft/draft.ts'
import { changeTablets } from '../../../shared/draft/edit/tablet-edit.ts'
import { sayListed } from '../../../shared/draft/number-words.ts'
import { drawTablet, TABLET_MM } from '../../../shared/draft/picture/tablet-drawing.ts'
import type { Desk } from './desk.ts'

const DIFFERS = ' '
const EMPTY = '-'

/** The tablets themselves, to be marked, and what the marked ones are threaded with. */
export function listenToThreading(root: HTMLElement, desk: Desk): void {
  const strip = root.querySelector<HTMLElement>('[data-bench-tablets]')!
  const form = root.querySelector<HTMLElement>('[data-bench-thread]')!
  const drawn: { tablet: Tablet; colours: string }[] = []
  let due = 0

  const drawStrip = () => {
    const { shown, block, mark } = desk
    const marked = new Set(block.tablets)
    while (strip.children.length > shown.tablets.length) strip.lastElementChild!.remove()
    drawn.length = Math.min(drawn.length, shown.tablets.length)
    const colours = JSON.stringify(shown.colours)
    shown.tablets.forEach((tablet, at) => {
      const option = (strip.children[at] as HTMLElement | undefined) ?? addOption(strip, at)
      if (drawn[at]?.tablet !== tablet || drawn[at].colours !== colours) {
        drawn[at] = { tablet, colours }
        option.replaceChildren(picture(drawTablet(tablet, shown.colours)), caption(at, tablet))
        option.setAttribute('aria-label', sayTablet(at, tablet))
      }
      option.setAttribute('aria-selected', String(marked.has(at)))
      option.classList.toggle('is-border', tablet.part === 'border')
    })
    strip.setAttribute('aria-activedescendant', `bench-tablet-${mark.cursor.tablet}`)
  }
  const showForm = () => {
    // Whoever is in a field stays in it: the fields are made anew, for what was taken back changes them too.
    const at = form.contains(document.activeElement) ? (document.activeElement as HTMLSelectElement).name : undefined
    form.replaceChildren(...fieldsOf(desk))
    if (at) form.querySelector<HTMLSelectElement>(`select[name="${at}"]`)?.focus({ preventScroll: true })
  }
  const show = () => {
    clearTimeout(due)
    due = setTimeout(() => {
      drawStrip()
      showForm()
    }, 40) as unknown as number
  }
  desk.listen(({ kind }) => {
    if (kind !== 'told') show()
  })
  form.addEventListener('change', (event) => {
    const { name, value } = event.target as HTMLSelectElement
    if (value === DIFFERS) return
    const tablets = desk.block.tablets
    const label = `${sayListed(
      'tablet',
      tablets.map((one) => one + 1),
    )}: ${LABELS[name]!.toLowerCase()} ${sayValue(desk, name, value)}`
    if (!desk.make(changeTablets(desk.bench, tablets, (tablet) => withValue(tablet, name, value), label))) return
    desk.tell(`Done: ${label}.`)
    desk.settle()
  })

  const goTo = (tablet: number, extend: boolean) => {
    const cursor = { tablet, pick: desk.mark.cursor.pick }
    desk.setMark({ anchor: extend ? desk.mark.anchor : cursor, cursor })
    strip.children[desk.mark.cursor.tablet]?.scrollIntoView({ block: 'nearest', inline: 'nearest' })
  }
  strip.addEventListener('click', (event) => {
    const option = (event.target as Element).closest('[role="option"]')
    if (option) goTo([...strip.children].indexOf(option), event.shiftKey)
  })
  strip.addEventListener('keydown', (event) => {
    const { tablet } = desk.mark.cursor
    const last = desk.bench.tablets.length - 1
    const to = {
      ArrowRight: tablet + 1,
      ArrowDown: tablet + 1,
      ArrowLeft: tablet - 1,
      ArrowUp: tablet - 1,
      Home: 0,
      End: last,
    }[event.key]
    if (to === undefined || event.ctrlKey || event.altKey || event.metaKey) return
    event.preventDefault()
    goTo(Math.max(0, Math.min(to, last)), event.shiftKey)
  })
  drawStrip()
  showForm()
}

function addOption(strip: HTMLElement, at: number): HTMLElement {
  const option = document.createElement('div')
  option.id = `bench-tablet-${at}`
  option.className = 'bench-tablet'
  option.setAttribute('role', 'option')
  strip.append(option)
  return option
}

/** Parsed as XML, never as HTML. */
function picture(drawing: string): Node {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${TABLET_MM.width} ${TABLET_MM.height}" aria-hidden="true" focusable="false">${drawing}</svg>`
  return document.importNode(new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement, true)
}

function caption(at: number, { threading }: Tablet): HTMLElement {
  const element = document.createElement('span')
  element.textContent = `${at + 1} ${threading}`
  return element
}

const sayTablet = (at: number, { threading, holes, start, part }: Tablet) =>
  `Tablet ${at + 1}, ${threading}, ${HOLES.map((hole, index) => `${hole} ${holes[index] ?? 'empty'}`).join(', ')}, starts at ${start}${part === 'border' ? ', border' : ''}`

const LABELS: Readonly<Record<string, string>> = {
  ...{ threading: 'Threading', start: 'Starts at', part: 'Part' },
  ...{ A: 'Hole A', B: 'Hole B', C: 'Hole C', D: 'Hole D' },
}

function fieldsOf(desk: Desk): HTMLElement[] {
  const { bench, block } = desk
  const tablets = block.tablets.map((at) => bench.tablets[at]!)
  const colours: [string, string][] = Object.entries(bench.colours).map(([key, { name }]) => [
    key,
    name === key ? key : `${key} ${name}`,
  ])
  const options: Readonly<Record<string, readonly (readonly [string, string])[]>> = {
    threading: [
      ['S', 'S'],
      ['Z', 'Z'],
    ],
    start: HOLES.map((hole) => [hole, hole] as const),
    part: [
      ['pattern', 'pattern'],
      ['border', 'border'],
    ],
    ...Object.fromEntries(HOLES.map((hole) => [hole, [...colours, [EMPTY, 'empty'] as const]])),
  }
  return Object.entries(options).map(([name, choices]) => {
    const values = new Set(tablets.map((tablet) => valueOf(tablet, name)))
    const label = document.createElement('label')
    label.className = 'bench-short'
    const select = document.createElement('select')
    select.name = name
    if (values.size > 1) select.add(new Option('differs', DIFFERS, true, true))
    for (const [value, text] of choices)
      select.add(new Option(text, value, false, values.size === 1 && values.has(value)))
    label.append(LABELS[name]!, ' ', select)
    return label
  })
}

function valueOf(tablet: Tablet, name: string): string {
  if (name === 'threading' || name === 'start' || name === 'part') return tablet[name]
  return tablet.holes[HOLES.indexOf(name as Tablet['start'])] ?? EMPTY
}

function withValue(tablet: Tablet, name: string, value: string): Tablet {
  if (name === 'threading' || name === 'start' || name === 'part') return { ...tablet, [name]: value }
  const hole = HOLES.indexOf(name as Tablet['start'])
  const key: ColourKey | null = value === EMPTY ? null : value
  return { ...tablet, holes: tablet.holes.map((one, at) => (at === hole ? key : one)) as unknown as Tablet['holes'] }
}

const sayValue = (desk: Desk, name: string, value: string) =>
  LABELS[name]!.startsWith('Hole') ? (value === EMPTY ? 'empty' : desk.bench.colours[value]!.name || value) : value
