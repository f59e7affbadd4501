let canvas: HTMLCanvasElement | undefined

/** Draws something small beside the page and gives its dots, row by row. */
export function scratch(width: number, height: number, draw: (context: CanvasRenderingContext2D) => void): Uint32Array {
  canvas ??= document.createElement('canvas')
  if (canvas.width < width || canvas.height < height) {
    canvas.width = Math.max(canvas.width, width)
    canvas.height = Math.max(canvas.height, height)
  }
  const context = canvas.getContext('2d', { willReadFrequently: true })!
  context.save()
  context.clearRect(0, 0, width, height)
  draw(context)
  context.restore()
  return new Uint32Array(context.getImageData(0, 0, width, height).data.buffer)
}

/** `#rrggbb` as the four bytes of a dot, in the order that every current machine keeps them. */
export function toDot(hex: string): number {
  const bits = Number.parseInt(hex.slice(1), 16)
  return ((255 << 24) | ((bits & 255) << 16) | (bits & 0xff00) | (bits >> 16)) >>> 0
}
