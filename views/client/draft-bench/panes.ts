import type { Desk, Place } from './desk.ts'
import { type Overlay, createOverlay } from './overlay.ts'
import { Ruler } from './ruler.ts'
import { drawInSlices } from './slices.ts'
import { stitchTiles } from './stitch-tiles.ts'
import { TilePane } from './tile-pane.ts'
import { tokenOf, turnTiles } from './turn-tiles.ts'
import { TwistPane } from './twist-pane.ts'
import { WeftEdges } from './weft-edge.ts'
import { type Sight, sightOf, tabletPxOf, type View } from './view.ts'

export type PaneName = 'face' | 'reverse' | 'turns'

/** One picture of the band with its gutter, its marks, and where a finger on it points. */
export interface BandPane {
  readonly name: PaneName
  readonly cloth: HTMLElement
  readonly overlay: Overlay
  /** The turn under a point of the window; the nearest one when the point is beside the band. */
  placeAt(clientX: number, clientY: number): Place
}

export interface Panes {
  readonly bands: readonly BandPane[]
  readonly shows: Set<string>
  /** Draws what has changed; `tablets` tells which, everything when left out. */
  draw(tablets?: Uint8Array): void
  /** After other colours or another scheme: nothing that was painted holds. */
  repaint(): void
}

const PANES = [
  { name: 'face', label: 'Face' },
  { name: 'reverse', label: 'Reverse, turned over about the warp' },
  {
    name: 'turns',
    label: 'Turns: drawn through is forward, broken is back, a dash is idle; each leans as its stitch. Border tinted',
  },
] as const

export function createPanes(stack: HTMLElement, desk: Desk, view: View): Panes {
  let token = tokenOf(stack)
  const shows = new Set<string>(['face'])
  const ruler = new Ruler(stack)
  const tilesOf = (name: PaneName) =>
    name === 'turns'
      ? turnTiles(
          () => desk.bench,
          () => desk.live.woven,
          token,
        )
      : stitchTiles(
          name,
          () => shown,
          () => desk.live.woven,
        )
  let shown = desk.shown
  const bands = PANES.map(({ name, label }) => {
    const { box, gutter, cloth, canvas } = paneParts(stack, label)
    const pane = new TilePane(canvas, tilesOf(name))
    const edges = name === 'turns' ? undefined : new WeftEdges(box, cloth, name)
    const overlay = createOverlay(cloth, desk, view, name)
    const placeAt = (clientX: number, clientY: number): Place => {
      const { left, top } = cloth.getBoundingClientRect()
      const { tablets, picks } = desk.bench.turning
      const row = Math.floor((clientY - top) / tabletPxOf(view))
      const pick = Math.floor((clientX - left + view.scrollPx) / view.pickPx)
      const held = Math.max(0, Math.min(row, tablets - 1))
      const drawn = Math.max(0, Math.min(pick, view.picks - 1))
      return { tablet: name === 'reverse' ? tablets - 1 - held : held, pick: drawn % picks }
    }
    const sees = () => {
      const { top } = cloth.getBoundingClientRect()
      const [high, last] = [tabletPxOf(view), desk.bench.tablets.length - 1]
      const [from, to] = [-top / high - 1, (innerHeight - top) / high]
      return (tablet: number) => {
        const row = name === 'reverse' ? last - tablet : tablet
        return row >= from && row <= to
      }
    }
    return { name, box, gutter, cloth, pane, edges, overlay, placeAt, sees, numbered: '' }
  })
  const twistParts = paneParts(
    stack,
    'Twist: down for every turn forward, up for every one back; level where the line idles',
  )
  const twist = new TwistPane(twistParts.canvas)
  twistParts.canvas.setAttribute('role', 'img')
  twistParts.canvas.setAttribute('aria-label', 'Twist trace, its picks under those of the band')

  const drawTwist = (sight: Sight, changed?: Uint8Array) => {
    const { tablets, turning } = desk.bench
    const labels = twist.draw(tablets, turning, sight, token, changed && ((tablet) => changed[tablet] === 1))
    label(
      twistParts.gutter,
      labels.map(({ text, topPx }) => ({ text, topPx: topPx - 8 })),
    )
  }
  const tabletOf = (name: PaneName, row: number) => (name === 'reverse' ? desk.bench.tablets.length - 1 - row : row)
  const pictures = [
    ...bands.map(({ name, box, pane, sees }) => ({
      ...{ name, box, sees },
      draw: (sight: Sight, changed?: Uint8Array) =>
        pane.draw(sight, desk.bench.tablets.length, changed && ((row) => changed[tabletOf(name, row)] === 1)),
    })),
    { name: 'twist', box: twistParts.box, draw: drawTwist, sees: () => () => true },
  ]
  const slices = drawInSlices(pictures, () => sightOf(view, devicePixelRatio))

  const draw = (tablets?: Uint8Array) => {
    shown = desk.shown
    const sight = sightOf(view, devicePixelRatio)
    const rows = desk.bench.tablets.length
    ruler.draw(sight, desk.bench.turning.picks)
    for (const { name, box } of pictures) box.hidden = !shows.has(name)
    slices.draw(sight, tablets)
    for (const band of bands) {
      const { name, box, gutter, edges, overlay } = band
      if (box.hidden) continue
      edges?.draw(sight, view.picks, shown.colours[shown.weft]!.hex)
      const numbered = `${rows} ${tabletPxOf(view)}`
      if (band.numbered !== numbered) numberRows(gutter, rows, tabletPxOf(view), (row) => tabletOf(name, row))
      band.numbered = numbered
      overlay.draw()
    }
  }
  return {
    ...{ bands, shows, draw },
    repaint() {
      token = tokenOf(stack)
      shown = desk.shown
      for (const { name, pane } of bands) pane.restart(tilesOf(name))
      draw()
    },
  }
}

function paneParts(stack: HTMLElement, name: string) {
  const make = (parent: HTMLElement, className: string, tag = 'div') => {
    const element = document.createElement(tag)
    element.className = className
    parent.append(element)
    return element
  }
  const box = make(stack, 'bench-pane')
  make(box, 'bench-pane-name', 'p').textContent = name
  const gutter = make(box, 'bench-gutter')
  gutter.setAttribute('aria-hidden', 'true')
  const cloth = make(box, 'bench-cloth')
  return { box, gutter, cloth, canvas: make(cloth, 'bench-canvas', 'canvas') as HTMLCanvasElement }
}

/** Numbers of tablets beside their rows, as many as stand clear of each other. */
function numberRows(gutter: HTMLElement, rows: number, rowPx: number, tabletOf: (row: number) => number): void {
  const apart = [1, 2, 5, 10, 20, 50, 100].find((step) => step * rowPx >= 14) ?? 200
  const labels = Array.from({ length: rows }, (_, row) => ({ tablet: tabletOf(row) + 1, row }))
    .filter(({ tablet }) => tablet % apart === 0 || (tablet === 1 && apart > 2))
    .map(({ tablet, row }) => ({ text: String(tablet), topPx: row * rowPx + rowPx / 2 - 8 }))
  label(gutter, labels)
}

function label(gutter: HTMLElement, labels: readonly { text: string; topPx: number }[]): void {
  const key = labels.map(({ text, topPx }) => `${text} ${topPx.toFixed(1)}`).join()
  if (gutter.dataset.labels === key) return
  gutter.dataset.labels = key
  gutter.replaceChildren(
    ...labels.map(({ text, topPx }) => {
      const element = document.createElement('span')
      element.textContent = text
      element.style.top = `${topPx}px`
      return element
    }),
  )
}
