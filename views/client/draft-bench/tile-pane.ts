import type { Sight } from './view.ts'

/** What a pane shows at each place, as numbered tiles. */
export interface Tiles {
  /** Writes the numbers of the tiles of one row, picks `from` to before `to`, into `into` from 0 on. */
  number(row: number, from: number, to: number, into: Uint32Array): void
  /** The dots of a tile, row by row, opaque. */
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
  private painted = new Map<number, Uint32Array>()
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
    this.painted.clear()
    this.key = ''
  }

  /**
   * @param isChanged which rows may show something else than before; left out, all of them
   * @returns how many tiles were laid
   */
  draw(sight: Sight, rows: number, isChanged?: (row: number) => boolean): number {
    const all = this.fit(sight, rows)
    const { from, to, xOf, yOf } = sight
    const columns = to - from
    const dirty = { left: Infinity, top: Infinity, right: 0, bottom: 0 }
    let laid = 0
    for (let row = 0; row < rows; row++) {
      if (!all && isChanged && !isChanged(row)) continue
      this.tiles.number(row, from, to, this.numbers)
      const [top, bottom] = [yOf(row), yOf(row + 1)]
      for (let column = 0; column < columns; column++) {
        const tile = this.numbers[column]!
        if (this.laid[row * columns + column] === tile) continue
        this.laid[row * columns + column] = tile
        const [left, right] = [xOf(from + column), xOf(from + column + 1)]
        this.lay(tile, left, top, right - left, bottom - top, sight.widthDev)
        laid++
        dirty.left = Math.min(dirty.left, left)
        dirty.right = Math.max(dirty.right, right)
        dirty.top = Math.min(dirty.top, top)
        dirty.bottom = Math.max(dirty.bottom, bottom)
      }
    }
    if (all) this.context.putImageData(this.image!, 0, 0)
    else if (laid > 0) {
      const left = Math.max(0, dirty.left)
      this.context.putImageData(this.image!, 0, 0, left, dirty.top, dirty.right - left, dirty.bottom - dirty.top)
    }
    return laid
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
    if (oldPick !== pickDev || oldTablet !== tabletDev) this.painted.clear()
    this.laid = new Uint32Array(rows * (to - from)).fill(NOTHING)
    this.numbers = new Uint32Array(Math.max(1, to - from))
    this.key = key
    return true
  }

  private lay(tile: number, left: number, top: number, width: number, height: number, across: number): void {
    if (width === 0 || height === 0) return
    // Sizes of one zoom differ by a dot at most, so three bits tell them apart.
    const key = (tile * 8 + (width & 7)) * 8 + (height & 7)
    let dots = this.painted.get(key)
    if (dots === undefined) this.painted.set(key, (dots = this.tiles.paint(tile, width, height)))
    const first = Math.max(0, -left)
    const last = Math.min(width, across - left)
    for (let y = 0; y < height; y++) {
      const [source, target] = [y * width, (top + y) * across + left]
      for (let x = first; x < last; x++) this.dots[target + x] = dots[source + x]!
    }
  }
}
