import type { Draft } from '../../shared/draft/draft.ts'
import { drawBand } from '../../shared/draft/picture/band.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { weave } from '../../shared/draft/weave.ts'
import { boundDraft } from '../../shared/draft/entry/bound.ts'

/** The web manifest of one piece's loom page (W3C, Web Application Manifest). */
export function manifestOf(piece: { readonly id: number; readonly name: string }, base: string): object {
  const path = `${base}/pieces/${piece.id}/loom`
  return {
    name: `${piece.name}, at the loom`,
    short_name: piece.name.slice(0, 24),
    ...{ id: path, start_url: path, scope: path, display: 'standalone' },
    ...{ background_color: '#f7f1e5', theme_color: '#f7f1e5' },
    icons: [{ src: `${path}/icon.svg`, sizes: 'any', type: 'image/svg+xml' }],
  }
}

const ICON_MM = 24

/** A piece of its own band, in a square. */
export function iconOf(whole: Draft): string {
  const draft = boundDraft(whole)
  const picks = Math.min(Math.max(8, Math.round(draft.tablets.length / 0.9)), 60)
  const look = { side: 'face', tabletWidthMm: 1, pickHeightMm: 0.9, detail: 'low', picks } as const
  const { widthMm, heightMm, content } = drawBand(draft, weave(draft, turningOf(draft)), look, 'i')
  const scale = ICON_MM / Math.max(widthMm, heightMm)
  const shift = (mm: number) => ((ICON_MM - mm * scale) / 2).toFixed(3)
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="512" height="512" viewBox="0 0 ${ICON_MM} ${ICON_MM}">` +
    `<rect width="${ICON_MM}" height="${ICON_MM}" fill="#f7f1e5"/>` +
    `<g transform="translate(${shift(widthMm)} ${shift(heightMm)}) scale(${scale.toFixed(5)})">${content}</g></svg>`
  )
}
