import type { Sight } from './view.ts'

/** What a pane shows at each place, as numbered tiles: small whole numbers. */
export interface Tiles {
  /** Writes the numbers of the tiles of one row, picks `from` to before `to`, into `into` from 0 on. */
  number(row: number, from: number, to: number, into: Uint32Array): void
  /** Whether a tile of this size is one colour, so that it needs no painting. */
  isFlat(width: number, height: number): boolean
  /** The one dot of a flat tile. */
  dotOf(tile: number): number
  /** The dots of a tile that is not flat, row by row, opaque. */
  paint(tile: number, width: number, height: number): Uint32Array
}

const NOTHING = 0xffffffff

/**
 * A picture of the band made of tiles, on a canvas as large as what is in sight. Only tiles that differ from what stands
 * there already are laid; dots are copied by hand, for thousands of drawing calls would not fit into a frame.
 */
export class TilePane {
  private image: ImageData | undefined
  private dots = new Uint32Array(0)
  private laid = new Uint32Array(0)
  private numbers = new Uint32Array(0)
  /** Where each column begins, in dots, and where the last one ends. */
  private edges = new Int32Array(0)
  /** By tile and size: sizes of one zoom differ by a dot at most, so four stand for a tile. */
  private painted: (Uint32Array | undefined)[] = []
  private flat: (number | undefined)[] = []
  private key = ''
  private readonly context: CanvasRenderingContext2D

  constructor(
    readonly canvas: HTMLCanvasElement,
    private tiles: Tiles,
  ) {
    this.context = canvas.getContext('2d', { alpha: true, willReadFrequently: true })!
  }

  /** Other tiles under the same numbers: everything is laid anew. */
  restart(tiles: Tiles): void {
    this.tiles = tiles
    this.forget()
    this.key = ''
  }

  /**
   * @param isChanged which rows may show something else than before; left out, all of them
   */
  draw(sight: Sight, rows: number, isChanged?: (row: number) => boolean): void {
    const all = this.fit(sight, rows)
    const { from, to, yOf, pickDev, tabletDev } = sight
    const columns = to - from
    const { numbers, laid, edges } = this
    // All tiles of a zoom are flat, or each is looked at by itself.
    const isFlat = this.tiles.isFlat(Math.ceil(pickDev), Math.ceil(tabletDev))
    let [leftmost, rightmost, highest, lowest] = [columns, -1, rows, -1]
    for (let row = 0; row < rows; row++) {
      if (!all && isChanged && !isChanged(row)) continue
      this.tiles.number(row, from, to, numbers)
      const [top, bottom] = [yOf(row), yOf(row + 1)]
      let [first, last] = [-1, -1]
      for (let column = 0, at = row * columns; column < columns; column++, at++) {
        const tile = numbers[column]!
        if (laid[at] === tile) continue
        laid[at] = tile
        if (first < 0) first = column
        last = column
        if (!isFlat) this.lay(tile, edges[column]!, top, edges[column + 1]!, bottom, sight)
      }
      if (first < 0) continue
      if (isFlat) this.layFlat(first, last, top, bottom, sight.widthDev)
      leftmost = Math.min(leftmost, first)
      rightmost = Math.max(rightmost, last)
      highest = Math.min(highest, row)
      lowest = row
    }
    if (all) this.context.putImageData(this.image!, 0, 0)
    else if (rightmost >= 0) {
      const [left, top] = [Math.max(0, edges[leftmost]!), yOf(highest)]
      this.context.putImageData(this.image!, 0, 0, left, top, edges[rightmost + 1]! - left, yOf(lowest + 1) - top)
    }
  }

  /** Begins anew where size or place have changed; true when it did. */
  private fit({ widthDev, pickDev, tabletDev, from, to, dpr, xOf, yOf }: Sight, rows: number): boolean {
    const key = [widthDev, pickDev, tabletDev, from, to, rows, xOf(from)].join()
    if (key === this.key) return false
    const height = Math.max(1, yOf(rows))
    if (!this.image || this.canvas.width !== widthDev || this.canvas.height !== height) {
      this.canvas.width = widthDev
      this.canvas.height = height
      this.canvas.style.width = `${widthDev / dpr}px`
      this.canvas.style.height = `${height / dpr}px`
      this.image = this.context.createImageData(widthDev, height)
      this.dots = new Uint32Array(this.image.data.buffer)
    } else this.dots.fill(0)
    const [oldPick, oldTablet] = this.key.split(',').slice(1, 3).map(Number)
    if (oldPick !== pickDev || oldTablet !== tabletDev) this.forget()
    const tiles = rows * (to - from)
    if (this.laid.length !== tiles) this.laid = new Uint32Array(tiles)
    this.laid.fill(NOTHING)
    if (this.numbers.length !== to - from) this.numbers = new Uint32Array(to - from)
    this.edges = Int32Array.from({ length: to - from + 1 }, (_, column) => xOf(from + column))
    this.key = key
    return true
  }

  private forget(): void {
    this.painted = []
    this.flat = []
  }

  /** A run of flat tiles of one row: one line of dots, copied to those below it. */
  private layFlat(first: number, last: number, top: number, bottom: number, across: number): void {
    const { dots, numbers, edges } = this
    if (bottom === top) return
    const line = top * across
    for (let column = first; column <= last; column++) {
      const dot = this.dotOf(numbers[column]!)
      const end = line + Math.min(across, edges[column + 1]!)
      for (let at = line + Math.max(0, edges[column]!); at < end; at++) dots[at] = dot
    }
    const [from, to] = [line + Math.max(0, edges[first]!), line + Math.min(across, edges[last + 1]!)]
    for (let y = 1; y < bottom - top; y++) dots.copyWithin(from + y * across, from, to)
  }

  private dotOf(tile: number): number {
    return (this.flat[tile] ??= this.tiles.dotOf(tile))
  }

  private lay(tile: number, left: number, top: number, right: number, bottom: number, sight: Sight): void {
    const [width, height] = [right - left, bottom - top]
    if (width === 0 || height === 0) return
    const across = sight.widthDev
    const size = (width > sight.pickDev ? 1 : 0) + (height > sight.tabletDev ? 2 : 0)
    const dots = (this.painted[tile * 4 + size] ??= this.paint(tile, width, height))
    const { dots: into } = this
    const first = Math.max(0, -left)
    const last = Math.min(width, across - left)
    for (let y = 0; y < height; y++) {
      const source = y * width
      const target = (top + y) * across + left
      for (let x = first; x < last; x++) into[target + x] = dots[source + x]!
    }
  }

  private paint(tile: number, width: number, height: number): Uint32Array {
    const { tiles } = this
    return tiles.isFlat(width, height)
      ? new Uint32Array(width * height).fill(this.dotOf(tile))
      : tiles.paint(tile, width, height)
  }
}
