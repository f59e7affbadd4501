import { z } from 'zod'
import { MOST_STITCHES } from '../../shared/draft/entry/bound.ts'
import { decimalText, parseForm, type Parsed } from '../form.ts'

/** How large a tablet and a pick are drawn, and how long the band; all in mm. */
export interface PictureSize {
  readonly tabletWidthMm: number
  readonly pickHeightMm: number
  readonly lengthMm: number
}

/** What a band is drawn at while nobody has measured one: middling wool. Our own, and every caption says it. */
export const DEFAULT_TABLET_WIDTH_MM = 1
export const DEFAULT_PICK_HEIGHT_MM = 0.9

/** Those, one pick long: for pictures whose length says itself. */
export const USUAL_SIZE: PictureSize = {
  tabletWidthMm: DEFAULT_TABLET_WIDTH_MM,
  pickHeightMm: DEFAULT_PICK_HEIGHT_MM,
  lengthMm: DEFAULT_PICK_HEIGHT_MM,
}

const millimetres = (least: number, most: number) =>
  decimalText().refine(
    (text) => text === undefined || (Number(text) >= least && Number(text) <= most),
    `Please give from ${least} to ${most} mm.`,
  )

const sizeSchema = z.object({
  tabletWidthMm: millimetres(0.1, 20),
  pickHeightMm: millimetres(0.1, 20),
  lengthMm: millimetres(1, 5000),
})

export type SizeEntered = Record<keyof PictureSize, string>

/**
 * The size asked for in an address; what is not said is the usual size, and a length that shows the pattern well.
 * @param band its tablets, and the picks of its repeat
 */
export function readPictureSize(
  query: unknown,
  band: { readonly tablets: number; readonly picks: number },
): Parsed<PictureSize, SizeEntered> {
  const form = parseForm(query, sizeSchema)
  if (!form.ok) return form
  const tabletWidthMm = Number(form.value.tabletWidthMm ?? DEFAULT_TABLET_WIDTH_MM)
  const pickHeightMm = Number(form.value.pickHeightMm ?? DEFAULT_PICK_HEIGHT_MM)
  const wanted = form.value.lengthMm
  const lengthMm = wanted === undefined ? pleasingLengthMm(band, tabletWidthMm, pickHeightMm) : Number(wanted)
  return { ok: true, value: { tabletWidthMm, pickHeightMm, lengthMm: Math.round(lengthMm * 1000) / 1000 } }
}

/** As many whole repeats as make a band about seven times as long as it is wide, at least one. */
function pleasingLengthMm(
  { tablets, picks }: { tablets: number; picks: number },
  tabletWidthMm: number,
  pickHeightMm: number,
): number {
  const repeats = Math.max(1, Math.round((7 * tablets * tabletWidthMm) / (picks * pickHeightMm)))
  return repeats * picks * pickHeightMm
}

/** How many picks a picture of this length holds, and whether that had to be held back. */
export function drawnPicks({ lengthMm, pickHeightMm }: PictureSize, tablets: number): { picks: number; cut: boolean } {
  const wanted = Math.max(1, Math.round(lengthMm / pickHeightMm))
  const most = Math.max(1, Math.floor(MOST_STITCHES / tablets))
  return { picks: Math.min(wanted, most), cut: wanted > most }
}
