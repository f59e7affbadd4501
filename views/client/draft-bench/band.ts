import type { Desk } from './desk.ts'
import { createPanes, type Panes } from './panes.ts'
import { listenToSizing, scrollFor } from './sizing.ts'
import { USUAL, type View } from './view.ts'

/** The band in sight: its pictures, its size, its scrolling. */
export interface Band {
  readonly panes: Panes
  /** Where the keyboard works. */
  readonly grid: HTMLElement
  readonly sizing: Readonly<Record<string, () => void>>
  /** Brings the cursor into sight. */
  show(): void
}

const GUTTER_PX = 36

export function showBand(root: HTMLElement, desk: Desk): Band {
  const scroll = root.querySelector<HTMLElement>('[data-bench-scroll]')!
  const runway = root.querySelector<HTMLElement>('[data-bench-runway]')!
  const stack = root.querySelector<HTMLElement>('[data-bench-stack]')!
  const view: View = { ...USUAL, pickPx: 10, picks: desk.bench.turning.picks, widthPx: 300, scrollPx: 0 }
  const panes = createPanes(stack, desk, view)
  const grid = panes.bands[0]!.cloth

  const measure = () => {
    const width = scroll.clientWidth
    view.widthPx = Math.max(40, width - GUTTER_PX)
    stack.style.width = `${width}px`
    runway.style.width = `${Math.ceil(view.picks * view.pickPx) + GUTTER_PX}px`
    view.scrollPx = scroll.scrollLeft
  }
  let dirty: Uint8Array | 'all' | 'marks' | undefined
  let frame = 0
  const draw = () => {
    frame = 0
    const what = dirty
    dirty = undefined
    if (what === 'marks') panes.bands.forEach(({ overlay }) => overlay.draw())
    else panes.draw(what === 'all' ? undefined : what)
  }
  const plan = (what: Uint8Array | 'all' | 'marks') => {
    if (dirty === undefined || dirty === 'marks') dirty = what
    else if (dirty === 'all' || what === 'all') dirty = 'all'
    else if (what !== 'marks') dirty = dirty.map((one, at) => one | what[at]!)
    frame ||= requestAnimationFrame(draw)
  }
  const redraw = (keepPick = false) => {
    const middle = keepPick ? (view.scrollPx + view.widthPx / 2) / lastPickPx : 0
    lastPickPx = view.pickPx
    measure()
    if (keepPick) {
      scroll.scrollLeft = middle * view.pickPx - view.widthPx / 2
      view.scrollPx = scroll.scrollLeft
    }
    plan('all')
  }
  let lastPickPx = view.pickPx

  shows(root, panes, () => plan('all'))
  measure()
  const sizing = listenToSizing(root, desk, view, redraw)
  let colours = desk.bench.colours
  let weft = desk.bench.weft
  desk.listen((news) => {
    if (news.kind === 'mark') plan('marks')
    if (news.kind === 'tried') panes.repaint()
    if (news.kind !== 'edit') return
    if (colours !== desk.bench.colours || weft !== desk.bench.weft) {
      ;({ colours, weft } = desk.bench)
      panes.repaint()
    }
    if (news.followed.resized) redraw()
    else plan(news.followed.tablets)
  })
  scroll.addEventListener('scroll', () => {
    view.scrollPx = scroll.scrollLeft
    plan('all')
  })
  new ResizeObserver(() => redraw()).observe(scroll)
  matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => panes.repaint())
  sizing.open!()
  scroll.scrollLeft = 0
  return {
    ...{ panes, grid, sizing },
    show() {
      const to = scrollFor(view, desk.mark.cursor.pick)
      if (to !== undefined) scroll.scrollLeft = to
    },
  }
}

/** Which pictures stand below the face; the browser remembers it. */
function shows(root: HTMLElement, panes: Panes, redraw: () => void): void {
  const key = 'fellmark bench shows'
  const isWide = matchMedia('(min-width: 64rem)').matches
  const usual = isWide ? ['reverse', 'turns', 'twist'] : ['turns']
  let wanted = usual
  try {
    wanted = localStorage.getItem(key)?.split(' ') ?? usual
  } catch {
    // A browser that keeps nothing shows the usual ones.
  }
  for (const tick of root.querySelectorAll<HTMLInputElement>('[data-bench-show]')) {
    const name = tick.dataset.benchShow!
    tick.checked = wanted.includes(name)
    if (tick.checked) panes.shows.add(name)
    tick.addEventListener('change', () => {
      if (tick.checked) panes.shows.add(name)
      else panes.shows.delete(name)
      try {
        localStorage.setItem(key, [...panes.shows].join(' '))
      } catch {
        // It is shown all the same.
      }
      redraw()
    })
  }
}
