import { boundPicks, isFine, shownPicks } from '../../../shared/draft/entry/bound.ts'
import type { DrawableDraft } from '../../../shared/draft/entry/draft-entry.ts'
import { sayLeftOut } from '../../../shared/draft/entry/say-entry.ts'
import { wovenFace } from '../../../shared/draft/picture/woven-face.ts'
import { weave } from '../../../shared/draft/weave.ts'
import { quickFace } from './quick-face.ts'

/** The usual proportions of the server's own pictures: middling wool, nothing measured. */
const PROPORTIONS = { tabletWidthMm: 1, pickHeightMm: 0.9 }

/**
 * The picture beside the form. A band of usual size is drawn as threads at every key; a large one as one dot a stitch
 * while one types, and as threads when the typing pauses.
 */
export function livePicture(form: HTMLFormElement): {
  show(drawable: DrawableDraft | undefined, isWhole: boolean): void
  settle(): void
} {
  const place = form.querySelector('[data-draft-picture]')
  const leftOut = form.querySelector('[data-draft-left-out]')
  let waiting: (() => Node) | undefined
  return {
    show(drawable, isWhole) {
      waiting = undefined
      if (leftOut) leftOut.textContent = drawable ? sayLeftOut(drawable) : ''
      if (!drawable) return place?.replaceChildren()
      const drawn = boundPicks(drawable)
      const picks = shownPicks(drawn, isWhole, PROPORTIONS.pickHeightMm / PROPORTIONS.tabletWidthMm)
      if (isFine(picks * drawn.turning.tablets)) return place?.replaceChildren(threads(drawn, picks))
      waiting = () => threads(drawn, picks)
      place?.replaceChildren(quickFace(drawn, PROPORTIONS))
    },
    settle() {
      if (waiting) place?.replaceChildren(waiting())
      waiting = undefined
    },
  }
}

/** Parsed as XML, never as HTML: what was typed cannot become more than the picture's title. */
function threads({ draft, turning }: DrawableDraft, picksShown: number): Node {
  const detail = isFine(picksShown * turning.tablets) ? 'high' : 'low'
  const look = { ...PROPORTIONS, side: 'face', picksShown, detail, idPrefix: 'live' } as const
  const svg = wovenFace(draft, weave(draft, turning), look)
  const parsed = new DOMParser().parseFromString(svg, 'image/svg+xml')
  return document.importNode(parsed.documentElement, true)
}
