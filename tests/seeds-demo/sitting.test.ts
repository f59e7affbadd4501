import { Temporal } from 'temporal-polyfill'
import { describe, expect, test } from 'vitest'
import { scenario } from '../../seeds-demo/scenario.ts'
import type { Piece, Sitting } from '../../seeds-demo/type.ts'
import { paceOf } from '../../shared/work/pace.ts'

const { drafts, pieces } = scenario
const sittings = pieces.flatMap((piece) => piece.sittings.map((sitting) => ({ ...sitting, maker: piece.maker })))

function instantsOf(sitting: Sitting): { start: number; end: number } {
  const day = Temporal.PlainDate.from(sitting.date)
  const at = (date: Temporal.PlainDate, clock: string) =>
    // "reject" throws for a time that the clock shows twice or never, which the loader could not place either.
    date.toPlainDateTime(clock).toZonedDateTime(sitting.zone, { disambiguation: 'reject' }).epochMilliseconds
  const nextDay = sitting.end < sitting.start
  return { start: at(day, sitting.start), end: at(nextDay ? day.add({ days: 1 }) : day, sitting.end) }
}

function minutesOf(sitting: Sitting): number {
  const { start, end } = instantsOf(sitting)
  return (end - start) / 60_000
}

function pieceOf(key: string): Piece {
  const piece = pieces.find((candidate) => candidate.key === key)
  if (!piece) throw new Error(key)
  return piece
}

describe('scenario sittings', () => {
  test('lie between November 2025 and October 2026, in their order, each piece by its own dates', () => {
    for (const { key, sittings: own, plannedOn, wovenOn } of pieces) {
      const days = own.map(({ date, start }) => `${date} ${start}`)
      expect([key, days]).toEqual([key, days.toSorted()])
      const woven = own.filter(({ stage }) => stage === 'weave').map(({ date }) => date)
      expect(woven.filter((day) => day < (plannedOn ?? '') || (wovenOn && day > wovenOn))).toEqual([])
    }
    expect(sittings.filter(({ date }) => date < '2025-11-01' || date > '2026-10-31')).toEqual([])
  })

  test('of one maker never overlap, and breaks are shorter than the sitting', () => {
    for (const maker of new Set(sittings.map((sitting) => sitting.maker))) {
      const spans = sittings.filter((sitting) => sitting.maker === maker).map(instantsOf)
      spans.sort((a, b) => a.start - b.start)
      expect(spans.filter((span, place) => span.start < (spans[place - 1]?.end ?? -Infinity))).toEqual([])
    }
    expect(sittings.filter((sitting) => sitting.breakMinutes >= minutesOf(sitting))).toEqual([])
    expect(sittings.filter((sitting) => minutesOf(sitting) > 8 * 60)).toEqual([])
  })

  test('know every stage', () => {
    const stages = ['study', 'draft', 'sample', 'wind', 'thread', 'weave', 'unweave', 'finish', 'write']
    expect(new Set(sittings.map(({ stage }) => stage))).toEqual(new Set(stages))
  })

  test('hold a night in which the clocks go back: an hour more than the clock shows', () => {
    const night = sittings.filter((sitting) => sitting.end < sitting.start)
    expect(night.map(({ date, start, end }) => [date, start, end])).toEqual([['2026-10-24', '23:35', '03:44']])
    expect(night.map(minutesOf)).toEqual([4 * 60 + 9 + 60])
  })

  test('count as many picks as the repeats of the draft have', () => {
    for (const { draft, sittings: own } of pieces) {
      const perRepeat = draft ? drafts[draft].picks.length : 0
      const strange = own.filter(
        ({ picks, repeats }) => picks !== undefined && Math.abs(picks - (repeats ?? 0) * perRepeat) > 0.5,
      )
      expect(strange).toEqual([])
    }
  })

  test.each(['museumFret', 'kelderhowLozenge', 'drennetGirdle', 'tessaryPike', 'guildHem'])(
    'of %s show learning: faster by 5 to 30 parts in a hundred at each doubling, with scatter',
    (key) => {
      const timed = pieceOf(key)
        .sittings.filter(({ stage }) => stage === 'weave')
        .map(({ breakMinutes, repeats, ...sitting }) => ({
          minutes: minutesOf({ breakMinutes, ...sitting }),
          breakMinutes,
          repeats,
        }))
      const { learning } = paceOf(timed)
      expect(learning?.ratePerDoubling).toBeGreaterThan(0.7)
      expect(learning?.ratePerDoubling).toBeLessThan(0.95)
      expect(learning?.sLog).toBeGreaterThan(0.01)
    },
  )
})
