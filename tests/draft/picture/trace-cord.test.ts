import fc from 'fast-check'
import { expect, test } from 'vitest'
import { cordsOf, newStitchBook, traceCord } from '../../../shared/draft/picture/cord.ts'
import { weave } from '../../../shared/draft/weave.ts'
import { arbitraryDraft } from '../arbitrary-draft.ts'

test('traceCord(book, draft, woven, stretch, into) gives any stretch as the whole cord has it, over the repeat too', () => {
  fc.assert(
    fc.property(arbitraryDraft, fc.nat(70), fc.nat(20), fc.boolean(), ({ draft, turning }, from, long, isFace) => {
      const woven = weave(draft, turning)
      const side = isFace ? 'face' : 'reverse'
      const to = from + long
      const whole = cordsOf(draft, woven, side, Math.max(1, to))
      const book = newStitchBook()
      draft.tablets.forEach((_, at) => {
        const places = new Uint32Array(long)
        traceCord(book, draft, woven, { side, at, from, to }, places)
        const cord = whole.cords[isFace ? at : draft.tablets.length - 1 - at]!.subarray(from, to)
        expect([...places].map((place) => book.stitches[place])).toEqual(
          [...cord].map((place) => whole.stitches[place]),
        )
      })
    }),
    { numRuns: 120 },
  )
})
