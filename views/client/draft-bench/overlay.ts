import type { Desk } from './desk.ts'
import { sayPlace } from './say.ts'
import { tabletPxOf, type View } from './view.ts'

/** The marked block and the place of the cursor, over one picture of the band. */
export interface Overlay {
  draw(): void
}

/**
 * The face is the grid that the keyboard works in: only the cell under the cursor is there as an element, for a band has
 * thousands. Two take turns, so that a screen reader hears of each move.
 */
export function createOverlay(cloth: HTMLElement, desk: Desk, view: View, name: string): Overlay {
  const isGrid = name === 'face'
  const blocks = document.createElement('div')
  blocks.className = 'bench-blocks'
  blocks.setAttribute('aria-hidden', 'true')
  const row = document.createElement('div')
  const cells = [document.createElement('div'), document.createElement('div')] as const
  cells.forEach((cell) => (cell.className = 'bench-cursor'))
  cloth.append(blocks, row)
  row.append(cells[0])
  if (isGrid) {
    cloth.setAttribute('role', 'grid')
    cloth.tabIndex = 0
    cloth.setAttribute('aria-label', 'The band: a row for each tablet, a column for each pick')
    cloth.setAttribute('aria-describedby', 'bench-band-title')
    cloth.querySelector('canvas')!.setAttribute('aria-hidden', 'true')
    row.setAttribute('role', 'row')
    cells.forEach((cell, at) => {
      cell.setAttribute('role', 'gridcell')
      cell.id = `bench-cell-${at}`
    })
    row.append(cells[1])
  } else {
    row.setAttribute('aria-hidden', 'true')
    cloth.querySelector('canvas')!.setAttribute('aria-hidden', 'true')
  }
  let turn = 0
  let said = ''

  const put = (element: HTMLElement, left: number, top: number, width: number, height: number) => {
    element.style.transform = `translate(${left}px, ${top}px)`
    element.style.width = `${width}px`
    element.style.height = `${height}px`
  }
  const rowOf = (tablet: number) => (name === 'reverse' ? desk.bench.tablets.length - 1 - tablet : tablet)

  return {
    draw() {
      const { block, mark } = desk
      const [long, wide] = [view.pickPx, tabletPxOf(view)]
      const runs = runsOf(block.tablets)
      while (blocks.children.length > runs.length) blocks.lastElementChild!.remove()
      while (blocks.children.length < runs.length) blocks.append(document.createElement('div'))
      runs.forEach(([from, to], at) => {
        const [top, bottom] = [rowOf(from), rowOf(to)].sort((a, b) => a - b) as [number, number]
        put(
          blocks.children[at] as HTMLElement,
          block.from * long - view.scrollPx,
          top * wide,
          (block.to - block.from + 1) * long,
          (bottom - top + 1) * wide,
        )
      })
      const { tablet, pick } = mark.cursor
      const text = sayPlace(desk, mark.cursor)
      if (isGrid && text !== said) turn = 1 - turn
      const cell = isGrid ? cells[turn]! : cells[0]
      put(cell, pick * long - view.scrollPx, rowOf(tablet) * wide, long, wide)
      if (!isGrid || text === said) return
      said = text
      cells[1 - turn]!.hidden = true
      cell.hidden = false
      cell.setAttribute('aria-label', text)
      cell.setAttribute('aria-colindex', String(pick + 1))
      cell.setAttribute('aria-selected', 'true')
      row.setAttribute('aria-rowindex', String(tablet + 1))
      cloth.setAttribute('aria-rowcount', String(desk.bench.tablets.length))
      cloth.setAttribute('aria-colcount', String(desk.bench.turning.picks))
      cloth.setAttribute('aria-activedescendant', cell.id)
    },
  }
}

/** Tablets beside each other, first and last. */
function runsOf(tablets: readonly number[]): [number, number][] {
  const runs: [number, number][] = []
  for (const tablet of tablets) {
    const last = runs.at(-1)
    if (last && last[1] === tablet - 1) last[1] = tablet
    else runs.push([tablet, tablet])
  }
  return runs
}
