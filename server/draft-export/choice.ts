import { z } from 'zod'
import { weftLoopMm } from '../../shared/draft/picture/band.ts'
import { drawnPicks, type PictureSize, readPictureSize } from '../draft/size.ts'
import { parseForm, type Problems, wholeNumber } from '../form.ts'
import { LONGEST_SIDE, MOST_PIXELS, pixelsOf } from './png.ts'

/** What a picture of a band is exported as. */
export interface ExportChoice {
  readonly size: PictureSize
  readonly lie: 'up' | 'across'
  readonly dpi: number
  /** The whole picture, on paper and in pixels. */
  readonly widthMm: number
  readonly heightMm: number
  readonly widthPx: number
  readonly heightPx: number
}

export type ExportEntered = Record<'tabletWidthMm' | 'pickHeightMm' | 'lengthMm' | 'dpi' | 'lie', string>
export type ReadExport =
  { ok: true; value: ExportChoice } | { ok: false; entered: ExportEntered; problems: Problems<ExportEntered> }

export const USUAL_DPI = 300

const schema = z.object({ dpi: wholeNumber(25, 2400), lie: z.string() })

/**
 * Size and resolution as asked for in an address. A picture with more pixels than we draw is refused, with the sentence
 * beside the resolution.
 */
export function readExportChoice(query: unknown, band: { tablets: number; picks: number }): ReadExport {
  const size = readPictureSize(query, band)
  const own = parseForm(query, schema)
  const entered = { ...sizeEntered(query), ...readOwn(query) }
  if (!size.ok || !own.ok) {
    const problems = { ...(size.ok ? {} : size.problems), ...(own.ok ? {} : own.problems) }
    return { ok: false, entered, problems }
  }
  const choice = choiceOf(size.value, band.tablets, own.value.dpi ?? USUAL_DPI, own.value.lie)
  const { widthPx, heightPx } = choice
  if (widthPx * heightPx <= MOST_PIXELS && Math.max(widthPx, heightPx) <= LONGEST_SIDE)
    return { ok: true, value: choice }
  const dpi = `That makes ${widthPx} by ${heightPx} pixels; at most ${MOST_PIXELS / 1e6} million are drawn, and ${LONGEST_SIDE} on a side.`
  return { ok: false, entered, problems: { dpi } }
}

const readOwn = (query: unknown) => {
  const { dpi, lie } = query as Record<string, unknown>
  return { dpi: typeof dpi === 'string' ? dpi : '', lie: typeof lie === 'string' ? lie : '' }
}

function sizeEntered(query: unknown): Record<keyof PictureSize, string> {
  const typed = query as Record<string, unknown>
  const text = (name: keyof PictureSize) => (typeof typed[name] === 'string' ? typed[name] : '')
  return { tabletWidthMm: text('tabletWidthMm'), pickHeightMm: text('pickHeightMm'), lengthMm: text('lengthMm') }
}

/** The picture is as long as its whole picks, and as wide as its tablets with the loops of the weft. */
function choiceOf(size: PictureSize, tablets: number, dpi: number, lie: string): ExportChoice {
  const alongMm = drawnPicks(size, tablets).picks * size.pickHeightMm
  const acrossMm = tablets * size.tabletWidthMm + 2 * weftLoopMm(size.tabletWidthMm, size.pickHeightMm)
  const [widthMm, heightMm] = lie === 'up' ? [acrossMm, alongMm] : [alongMm, acrossMm]
  return {
    ...{ size, lie: lie === 'up' ? 'up' : 'across', dpi, widthMm, heightMm },
    ...{ widthPx: pixelsOf(widthMm, dpi), heightPx: pixelsOf(heightMm, dpi) },
  }
}
