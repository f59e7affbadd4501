import { boundPicks, isFine, shownPicks } from '../../../shared/draft/entry/bound.ts'
import type { DrawableDraft } from '../../../shared/draft/entry/draft-entry.ts'
import { sayLeftOut } from '../../../shared/draft/entry/say-entry.ts'
import { wovenFace } from '../../../shared/draft/picture/woven-face.ts'
import { weave } from '../../../shared/draft/weave.ts'
import { quickFace } from './quick-face.ts'

/** The usual proportions of the server's own pictures: middling wool, nothing measured. */
const PROPORTIONS = { tabletWidthMm: 1, pickHeightMm: 0.9 }

// What a browser lays out within a frame while one types: up to so many stitches as threads, more in flat colour, and
// a large band as one dot a stitch. The better picture comes when the typing pauses. Measured in Chromium.
const MOST_AT_ONCE = 1_000
const PAUSE_MS = 200
const LONG_PAUSE_MS = 1_000

/** The picture beside the form, and what it leaves out; `show` it anew at every key. */
export function livePicture(form: HTMLFormElement): (drawable: DrawableDraft | undefined, isWhole: boolean) => void {
  const place = form.querySelector('[data-draft-picture]')
  const leftOut = form.querySelector('[data-draft-left-out]')
  let better: ReturnType<typeof setTimeout> | undefined
  return (drawable, isWhole) => {
    clearTimeout(better)
    if (leftOut) leftOut.textContent = drawable ? sayLeftOut(drawable) : ''
    if (!drawable) return place?.replaceChildren()
    const drawn = boundPicks(drawable)
    const picks = shownPicks(drawn, isWhole, PROPORTIONS.pickHeightMm / PROPORTIONS.tabletWidthMm)
    const stitches = picks * drawn.turning.tablets
    const show = (node: Node) => place?.replaceChildren(node)
    if (stitches <= MOST_AT_ONCE) return show(band(drawn, picks, 'high'))
    const isBig = !isFine(stitches)
    show(isBig ? quickFace(drawn, PROPORTIONS) : band(drawn, picks, 'low'))
    const drawBetter = () => void show(band(drawn, picks, isBig ? 'low' : 'high'))
    better = setTimeout(drawBetter, isBig ? LONG_PAUSE_MS : PAUSE_MS)
  }
}

/** Parsed as XML, never as HTML: what was typed cannot become more than the picture's title. */
function band({ draft, turning }: DrawableDraft, picksShown: number, detail: 'high' | 'low'): Node {
  const look = { ...PROPORTIONS, side: 'face', picksShown, detail, idPrefix: 'live' } as const
  const svg = wovenFace(draft, weave(draft, turning), look)
  const parsed = new DOMParser().parseFromString(svg, 'image/svg+xml')
  return document.importNode(parsed.documentElement, true)
}
