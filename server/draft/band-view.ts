import { sayCount } from '../../shared/draft/number-words.ts'
import { formFields, type FieldSpec, type FieldView } from '../field.ts'
import { type PictureKind, sayBand } from './picture.ts'
import {
  DEFAULT_PICK_HEIGHT_MM,
  DEFAULT_TABLET_WIDTH_MM,
  drawnPicks,
  readPictureSize,
  type PictureSize,
} from './size.ts'
import type { Revision } from './revision-queries.ts'

/** Face and reverse of a revision at one size, and the form that changes the size. */
export interface BandView {
  readonly pictures: readonly { kind: 'face' | 'reverse'; label: string; src: string; alt: string }[]
  /** How large and how much of it is drawn. */
  readonly caption: string
  /** Why a part is not drawn; empty when all of it is. */
  readonly leftOut: string
  readonly fields: Record<keyof PictureSize, FieldView>
  readonly hasProblem: boolean
}

const SIZE_FIELDS: Record<keyof PictureSize, FieldSpec> = {
  tabletWidthMm: { label: 'A tablet, mm', inputmode: 'decimal' },
  pickHeightMm: { label: 'A pick, mm', inputmode: 'decimal' },
  lengthMm: { label: 'Length drawn, mm', inputmode: 'decimal' },
}

/**
 * @param query the page's own, with what the reader typed
 * @param addressOf a picture of this revision, with its query
 */
export function bandView(
  { draft, tablets, picks }: Pick<Revision, 'draft' | 'tablets' | 'picks'>,
  query: unknown,
  addressOf: (kind: PictureKind, query: Record<string, string>) => string,
): BandView {
  const form = readPictureSize(query, { tablets, picks })
  const usual = readPictureSize({}, { tablets, picks })
  if (!usual.ok) throw new Error('The usual size of a picture was refused')
  const size = form.ok ? form.value : usual.value
  const typed = {
    tabletWidthMm: say(size.tabletWidthMm),
    pickHeightMm: say(size.pickHeightMm),
    lengthMm: say(size.lengthMm),
  }
  const drawn = drawnPicks(size, tablets)
  const pictures = (['face', 'reverse'] as const).map((kind) => ({
    kind,
    label: kind === 'face' ? 'Face' : 'Reverse',
    src: addressOf(kind, { ...typed, lie: 'across' }),
    alt: sayBand(kind, draft, drawn.picks),
  }))
  return {
    pictures,
    caption: sayCaption(size, drawn.picks, picks),
    leftOut: drawn.cut ? `The first ${drawn.picks} picks are drawn; more would make the picture too heavy.` : '',
    fields: formFields(SIZE_FIELDS, form.ok ? typed : form.entered, form.ok ? {} : form.problems),
    hasProblem: !form.ok,
  }
}

function sayCaption(size: PictureSize, drawn: number, repeat: number): string {
  const many = drawn === repeat ? 'one repeat' : sayCount(drawn / repeat, 'repeat')
  const isUsual = size.tabletWidthMm === DEFAULT_TABLET_WIDTH_MM && size.pickHeightMm === DEFAULT_PICK_HEIGHT_MM
  const why = isUsual ? ', our usual proportions: nothing is measured here' : ''
  return `Drawn at ${say(size.tabletWidthMm)} mm a tablet and ${say(size.pickHeightMm)} mm a pick${why}. ${sayCount(drawn, 'pick')}, ${many}; the first pick is at the left, tablet 1 on top on the face.`
}

/** At least one decimal, so that a width reads as one. */
const say = (value: number) => (Number.isInteger(value) ? value.toFixed(1) : String(value))
