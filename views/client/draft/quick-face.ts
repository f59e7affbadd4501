import type { DrawableDraft } from '../../../shared/draft/entry/draft-entry.ts'
import { weave } from '../../../shared/draft/weave.ts'

/** The face with one dot a stitch: follows the typing where threads would not. */
export function quickFace(
  { draft, turning }: DrawableDraft,
  { tabletWidthMm, pickHeightMm }: { tabletWidthMm: number; pickHeightMm: number },
): HTMLCanvasElement {
  const { tablets, picks, face } = weave(draft, turning)
  const canvas = document.createElement('canvas')
  canvas.width = tablets
  canvas.height = Math.max(1, Math.round((picks * pickHeightMm) / tabletWidthMm))
  canvas.className = 'draft-quick'
  canvas.setAttribute('role', 'img')
  canvas.setAttribute('aria-label', `${draft.title || 'Woven face'}, one dot a stitch`)
  const image = new ImageData(canvas.width, canvas.height)
  const dots = new Uint32Array(image.data.buffer)
  const colourOf = new Map(Object.entries(draft.colours).map(([key, { hex }]) => [key, toDot(hex)]))
  const weft = colourOf.get(draft.weft) ?? 0
  for (let y = 0; y < canvas.height; y++) {
    const pick = Math.min(picks - 1, Math.floor(((canvas.height - 1 - y) * picks) / canvas.height))
    for (let tablet = 0; tablet < tablets; tablet++) {
      const key = draft.tablets[tablet]!.holes[face[pick * tablets + tablet]!]
      dots[y * tablets + tablet] = key ? (colourOf.get(key) ?? weft) : weft
    }
  }
  canvas.getContext('2d')?.putImageData(image, 0, 0)
  return canvas
}

/** `#rrggbb` as the four bytes of a dot, in the order that every current machine keeps them. */
function toDot(hex: string): number {
  const bits = Number.parseInt(hex.slice(1), 16)
  return ((255 << 24) | ((bits & 255) << 16) | (bits & 0xff00) | (bits >> 16)) >>> 0
}
