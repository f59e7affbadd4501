import { describe, expect, test } from 'vitest'
import { drafts } from '../../seeds-demo/draft/draft.ts'
import { meanderFirst } from '../../seeds-demo/draft/meander-first.ts'
import { fretFace } from '../../seeds-demo/draft/fret.ts'
import { pikeFace } from '../../seeds-demo/draft/pike.ts'
import { readDraft } from '../../shared/draft/document.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { longestFloat } from '../../shared/draft/floats.ts'
import { listPacks } from '../../shared/draft/packs.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { keepsParity } from '../../shared/draft/turn-habits.ts'
import { closesAfter, isTwistNeutral } from '../../shared/draft/twist.ts'
import { colourGrid, weave } from '../../shared/draft/weave.ts'

const named = Object.entries<Draft>(drafts)
const doubleFace = [drafts.fret, drafts.meander, drafts.pike]

function woven(draft: Draft) {
  return weave(draft, turningOf(draft))
}

/** Colours on the face of the pattern tablets, pick by pick. */
function patternFace(draft: Draft): (string | null)[][] {
  const places = draft.tablets.flatMap((tablet, place) => (tablet.part === 'pattern' ? [place] : []))
  return colourGrid(draft, woven(draft), 'face').map((pick) => places.map((place) => pick[place] ?? null))
}

/** What a drawing asks for, pick by pick from the first: each sign so many tablets wide and two picks high. */
function drawn(rows: readonly string[], wide: number, dark: string, light: string): string[][] {
  return rows.toReversed().flatMap((row) => {
    const pick = Array.from(row).flatMap((sign) => Array.from({ length: wide }, () => (sign === '#' ? dark : light)))
    return [pick, pick]
  })
}

function exchanged(row: string): string {
  return Array.from(row, (sign) => (sign === '#' ? '.' : '#'))
    .toReversed()
    .join('')
}

describe.each(named)('drafts.%s', (_key, draft) => {
  test('is a draft document that the strict reader takes', () => {
    expect(readDraft(structuredClone(draft))).toMatchObject({ ok: true })
  })

  test('uses every colour that it names', () => {
    const used = new Set([draft.weft, ...draft.tablets.flatMap((tablet) => tablet.holes)])
    expect([...used].sort()).toEqual(Object.keys(draft.colours).sort())
  })

  test('closes after one repeat, keeps parity, and floats over three picks at most', () => {
    const result = woven(draft)
    expect(closesAfter(result)).toBe(1)
    expect(keepsParity(turningOf(draft))).toBe(true)
    const longest = longestFloat(draft, result, { overSeam: true })
    expect(longest.face).toBeLessThanOrEqual(3)
    expect(longest.reverse).toBeLessThanOrEqual(3)
  })

  test('has border tablets at both edges, alike in the mirror', () => {
    const sides = draft.tablets.map((tablet) => `${tablet.part} ${tablet.holes.join(' ')}`)
    const mirrored = draft.tablets.toReversed().map((tablet) => `${tablet.part} ${tablet.holes.join(' ')}`)
    expect(draft.tablets.map((tablet) => tablet.part)).toContain('border')
    expect(sides).toEqual(mirrored)
  })
})

describe('drafts', () => {
  test('are five, of which the lozenges alone leave no twist behind', () => {
    expect(named.filter(([, draft]) => isTwistNeutral(woven(draft))).map(([key]) => key)).toEqual(['lozenge'])
    expect(named).toHaveLength(5)
  })

  test('hold long repeats: more than 60 picks on 20 tablets or more', () => {
    const long = named.filter(([, { picks, tablets }]) => picks.length > 60 && tablets.length >= 20)
    expect(long.map(([key]) => key)).toEqual(['meander', 'pike'])
  })

  test('in double face hold two threads of one colour beside two of the other in each pattern tablet', () => {
    for (const draft of doubleFace) {
      const sets = draft.tablets.filter(({ part }) => part === 'pattern').map(({ holes }) => holes)
      for (const [a, b, c, d] of sets) expect([a === b, c === d, a === c]).toEqual([true, true, false])
    }
  })

  test('in double face show the other colour on the reverse of every pattern tablet at every pick', () => {
    for (const draft of doubleFace) {
      const result = woven(draft)
      const reverse = colourGrid(draft, result, 'reverse')
      const face = colourGrid(draft, result, 'face')
      const alike = draft.tablets.flatMap(({ part }, place) =>
        part === 'pattern' ? face.filter((pick, at) => pick[place] === reverse[at]?.[place]) : [],
      )
      expect(alike).toEqual([])
    }
  })
})

describe('drafts.fret', () => {
  test('weaves the drawing that it was worked out from', () => {
    expect(patternFace(drafts.fret)).toEqual(drawn(fretFace, 2, 'madder', 'weld'))
  })

  test('comes back onto itself by half a turn with the colours exchanged', () => {
    // The drawing starts within the repeat: six rows of steps, then six of hook, each turned in itself.
    const [steps, hook] = [fretFace.slice(0, 6), fretFace.slice(6)]
    expect(steps.toReversed().map(exchanged)).toEqual(steps)
    expect(hook.toReversed().map(exchanged)).toEqual(hook)
  })
})

describe('drafts.pike', () => {
  test('weaves the drawing, and below it the same in the mirror with the colours exchanged', () => {
    const rows = [...pikeFace, ...pikeFace.map(exchanged)]
    expect(patternFace(drafts.pike)).toEqual(drawn(rows, 1, 'woad', 'undyed'))
  })
})

describe('drafts.meander', () => {
  test('shows in the second half of the repeat the first half in the mirror', () => {
    const face = patternFace(drafts.meander)
    expect(face.slice(32)).toEqual(face.slice(0, 32).map((pick) => pick.toReversed()))
  })

  test('is turned tablet by tablet: no pack holds more than four pattern tablets', () => {
    const isPattern = (tablet: number) => drafts.meander.tablets[tablet - 1]?.part === 'pattern'
    const packs = listPacks(turningOf(drafts.meander)).map((pack) => pack.filter(isPattern).length)
    expect(Math.max(...packs)).toBeLessThanOrEqual(4)
  })
})

describe('drafts.chevron and drafts.lozenge', () => {
  test('are turned as one pack', () => {
    for (const draft of [drafts.chevron, drafts.lozenge]) expect(listPacks(turningOf(draft))).toHaveLength(1)
  })
})

describe('meanderFirst', () => {
  const [first, mended] = [turningOf(meanderFirst), turningOf(drafts.meander)]

  test('is the meander but for one turn: tablet 22 at pick 54 goes back where it should go forward', () => {
    const tablets = drafts.meander.tablets.length
    const slips = [...first.turns].flatMap((turn, place) => (turn === mended.turns[place] ? [] : [[place, turn]]))
    expect(slips).toEqual([[53 * tablets + 21, -1]])
  })

  test('keeps parity, so that nothing but the colours of tablet 22 tells of the slip; it closes after two repeats', () => {
    expect(keepsParity(first)).toBe(true)
    expect(closesAfter(woven(meanderFirst))).toBe(2)
    const [slipped, right] = [meanderFirst, drafts.meander].map((draft) => colourGrid(draft, woven(draft), 'face'))
    const wrong = right!.flatMap((pick, at) =>
      pick.flatMap((colour, place) => (colour === slipped![at]![place] ? [] : [`${at + 1}/${place + 1}`])),
    )
    expect(wrong[0]).toBe('54/22')
    expect(new Set(wrong.map((each) => each.split('/')[1]))).toEqual(new Set(['22']))
  })
})
