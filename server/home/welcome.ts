import { drafts } from '../../seeds-demo/draft/draft.ts'
import { wovenFace } from '../../shared/draft/picture/woven-face.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { weave } from '../../shared/draft/weave.ts'

let drawn: string | undefined

/** A band for the first page of a notebook that has no draft yet: one of the demo collection, drawn like any other. */
export function welcomePicture(): string {
  const draft = drafts.pike
  return (drawn ??= wovenFace(draft, weave(draft, turningOf(draft)), {
    ...{ side: 'face', tabletWidthMm: 1, pickHeightMm: 0.9, lie: 'across', detail: 'high', idPrefix: 'w' },
    picksShown: draft.tablets.length * 10,
    title: 'A tablet-woven band',
  }))
}
