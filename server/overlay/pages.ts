import type { FaceComparison, FaceGrid } from '../../shared/draft/compare-faces.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { sayCount } from '../../shared/draft/number-words.ts'
import { observedPicture } from '../../shared/observed/picture.ts'
import { formFields, type FieldSpec, type FieldView } from '../field.ts'
import { type Html, type PageHead, toHtml } from '../pages.ts'
import type { OverlayChoice } from './queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'overlay/show': OverlayPage
  }
}

interface SideView {
  readonly name: string
  readonly path: string
  readonly picture: Html
  readonly colours: readonly { key: string; name: string; hex: string }[]
}

interface SeenColour {
  readonly name: string
  readonly hex: string
}

interface OverlayPage extends PageHead {
  readonly fields: Record<'a' | 'b', FieldView>
  readonly words: readonly string[]
  readonly sides: readonly SideView[]
  readonly leftOut: string
  readonly differing: readonly { pick: number; tablet: number; a: SeenColour; b: SeenColour }[]
  readonly differingLeftOut: string
}

type Side = OverlayChoice & { readonly draft: Draft }

interface Shown {
  readonly choices: readonly OverlayChoice[]
  readonly a: Side | undefined
  readonly b: Side | undefined
  readonly found?: FaceComparison & { readonly grids: Record<'a' | 'b', FaceGrid> }
}

const MOST_LISTED = 60
const MOST_DRAWN = 24_000

export function overlayPage({ choices, a, b, found }: Shown): OverlayPage {
  const spec = (label: string): FieldSpec => ({
    label,
    options: [['', 'choose'], ...choices.map((one) => [String(one.id), nameOf(one)] as const)],
  })
  const entered = { a: String(a?.id ?? ''), b: String(b?.id ?? '') }
  const base = {
    title: 'One draft over another',
    section: 'drafts' as const,
    fields: formFields({ a: spec('The one'), b: spec('Over it') }, entered),
  }
  if (!found || !a || !b) {
    return { ...base, words: [], sides: [], leftOut: '', differing: [], differingLeftOut: '' }
  }
  const differing = found.differing.slice(0, MOST_LISTED)
  const more = found.cells - found.equal - differing.length
  const picks = Math.max(1, Math.floor(MOST_DRAWN / found.grids.a[0]!.length))
  const { shift } = found
  const marksOfB = found.differing.map(({ pick, tablet }) => ({
    pick: pick - shift,
    tablet: found.mirrored ? found.grids.b[0]!.length + 1 - tablet : tablet,
  }))
  return {
    ...base,
    words: [...sayFound(found), ...sayKeys(a.draft, b.draft)],
    sides: [drawSide(a, found.grids.a, found.differing, picks), drawSide(b, found.grids.b, marksOfB, picks)],
    leftOut: Math.max(found.grids.a.length, found.grids.b.length) > picks ? `The first ${picks} picks are drawn.` : '',
    differing: differing.map((one) => ({ ...one, a: colourOf(a.draft, one.a), b: colourOf(b.draft, one.b) })),
    differingLeftOut: more > 0 ? `${more} more are not listed.` : '',
  }
}

const nameOf = ({ title, number }: OverlayChoice) => `${title}, revision ${number}`
const colourOf = (draft: Draft, key: string): SeenColour => draft.colours[key] ?? { name: key, hex: '' }

/** Cells are compared by key; where one key stands for two colours, the pictures show what the words cannot. */
function sayKeys(a: Draft, b: Draft): string[] {
  const unlike = Object.entries(a.colours).flatMap(([key, { name, hex }]) => {
    const other = Object.hasOwn(b.colours, key) ? b.colours[key] : undefined
    return other && other.hex !== hex ? [`${key} (${name} ${hex} and ${other.name} ${other.hex})`] : []
  })
  return unlike.length === 0 ? [] : [`One key, two colours: ${unlike.join(', ')}. They are compared by key.`]
}

/** CSS pixels: a cell is read and its ring seen; what is longer scrolls in its frame. */
const CELL_PX = 12

function drawSide(
  side: Side,
  grid: FaceGrid,
  marks: readonly { readonly pick: number; readonly tablet: number }[],
  picks: number,
): SideView {
  const cells = grid.slice(0, picks)
  const marked = marks.filter(({ pick }) => pick <= cells.length)
  const look = { ground: '#fdfaf3', ink: '#2a2019', marked, title: nameOf(side), cellPx: CELL_PX }
  return {
    name: nameOf(side) + (side.isUnsaid ? ', its convention card not filled in' : ''),
    path: `/drafts/${side.draftId}/revisions/${side.number}`,
    picture: toHtml(observedPicture({ cells }, side.draft.colours, look)),
    colours: Object.entries(side.draft.colours).map(([key, { name, hex }]) => ({ key, name, hex })),
  }
}

function sayFound({
  cells,
  equal,
  agreement,
  shift,
  mirrored,
  triedUpTo,
  grids,
}: NonNullable<Shown['found']>): string[] {
  const share = Math.floor(agreement * 1000) / 10
  const agree =
    cells === 0
      ? 'No cell of the two can be compared.'
      : equal === cells
        ? `All ${cells} cells that lie over each other show the same colour key.`
        : `${equal} of ${cells} cells that lie over each other show the same colour key: ${share} %.`
  const moved =
    shift === 0
      ? 'They fit best as they are, pick 1 on pick 1.'
      : `They fit best with the second moved ${shift > 0 ? 'on' : 'back'} by ${sayCount(Math.abs(shift), 'pick')}.`
  const [first, second] = [grids.a[0]!.length, grids.b[0]!.length]
  const uneven =
    first === second
      ? ''
      : `One has ${first} tablets, the other ${second}: the first ${Math.min(first, second)} are compared.`
  const most = Math.max(grids.a.length, grids.b.length) - 1
  const bound = triedUpTo < most ? `Moves of up to ${triedUpTo} picks were tried.` : ''
  return [agree, moved + (mirrored ? ' It is mirrored left to right.' : ''), uneven, bound].filter(Boolean)
}
