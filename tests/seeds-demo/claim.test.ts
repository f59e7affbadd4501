import { describe, expect, test } from 'vitest'
import { scenario } from '../../seeds-demo/scenario.ts'
import type { Claim, Piece } from '../../seeds-demo/type.ts'
import { compareQuantities } from '../../shared/measure/compare.ts'
import { findFeature, isQuantity } from '../../shared/measure/feature.ts'
import type { Quantity } from '../../shared/measure/quantity.ts'
import { readReadings } from '../../shared/measure/reading.ts'
import { UNITS } from '../../shared/measure/unit.ts'

const { originals, drafts, pieces } = scenario
const holders: { key: string; claims: readonly Claim[] }[] = [
  ...originals,
  ...pieces.map(({ key, measurements }) => ({ key, claims: measurements })),
]
const claims = holders.flatMap((holder) => holder.claims)
function groupsOf(list: readonly Claim[]): Claim[][] {
  const groups = new Map<string, Claim[]>()
  for (const claim of list) {
    const name = `${claim.feature}, ${claim.part ?? 'whole'}`
    groups.set(name, [...(groups.get(name) ?? []), claim])
  }
  return [...groups.values()]
}

function widthOf(list: readonly Claim[]): Quantity {
  const claim = list.find(({ feature, working }) => feature === 'width' && working)
  if (!claim || !('unit' in claim)) throw new Error('no working width')
  const toNumber = (text: string | undefined) => (text === undefined ? undefined : Number(text))
  if ('value' in claim) return { value: Number(claim.value), u: toNumber(claim.u), n: claim.n }
  if (!('readings' in claim)) throw new Error('a range')
  const read = readReadings(claim.readings, { kind: 'length', unit: claim.unit })
  if (!read.ok) throw new Error(read.entered)
  return { readings: read.readings.map(({ value }) => value), resolution: toNumber(claim.resolution) }
}

function pieceOf(key: string): Piece {
  const piece = pieces.find((candidate) => candidate.key === key)
  if (!piece) throw new Error(key)
  return piece
}

describe('scenario claims', () => {
  test('are about features of the list, in units of their kind, with readings that can be read', () => {
    for (const claim of claims) {
      const feature = findFeature(claim.feature)
      if (!feature) throw new Error(claim.feature)
      if (feature.perYarn) expect([claim.feature, claim.part]).not.toContain(undefined)
      if ('text' in claim) expect([claim.feature, isQuantity(feature.kind)]).toEqual([claim.feature, false])
      if (!('unit' in claim)) continue
      const { kind } = UNITS[claim.unit]
      expect([claim.feature, kind]).toEqual([claim.feature, feature.kind])
      if ('readings' in claim)
        expect(readReadings(claim.readings, { kind, unit: claim.unit })).toMatchObject({ ok: true })
    }
  })

  test('say one thing each: a value, a range, readings, words or a blank', () => {
    const contents = claims.map((claim) =>
      ['value', 'low', 'readings', 'text', 'blank'].filter((name) => Object.hasOwn(claim, name)),
    )
    expect(contents.filter((names) => names.length !== 1)).toEqual([])
  })

  test('have exactly one working claim for each feature and part', () => {
    for (const holder of holders) {
      for (const group of groupsOf(holder.claims)) {
        const count = group.filter(({ working }) => working).length
        expect([holder.key, group[0]?.feature, count]).toEqual([holder.key, group[0]?.feature, 1])
      }
    }
  })

  test('stand as rivals with a reason for the working one', () => {
    const rivals = originals.flatMap((original) => groupsOf(original.claims)).filter((group) => group.length > 1)
    expect(rivals.length).toBeGreaterThanOrEqual(5)
    const working = rivals.flatMap((group) => group.filter((claim) => claim.working))
    expect(working.filter(({ workingReason }) => !workingReason)).toEqual([])
  })

  test('use all four kinds of blank, all four states and all bases but "assumed"', () => {
    const blanks = claims.flatMap((claim) => ('blank' in claim ? [claim.blank] : []))
    expect(new Set(blanks)).toEqual(new Set(['notAnalysed', 'notPreserved', 'notPublished', 'notKnownToMe']))
    expect(new Set(claims.map(({ state }) => state)).size).toBe(4)
    expect(new Set(claims.map(({ basis }) => basis))).toEqual(new Set(['seen', 'read', 'photograph', 'inferred']))
  })

  test('correct a measured value only beside it, with a reason', () => {
    const corrections = claims.filter(({ corrects }) => corrects !== undefined)
    expect(corrections.length).toBeGreaterThanOrEqual(1)
    expect(corrections.filter(({ reason }) => !reason?.includes('hrinkage'))).toEqual([])
  })

  test('give as many tablets and picks as the draft that is woven after them', () => {
    for (const { key, draft, original, measurements } of pieces) {
      const document = draft && drafts[draft]
      const all = [...measurements, ...(originals.find((candidate) => candidate.key === original)?.claims ?? [])]
      const counts = (feature: string) =>
        all.flatMap((claim) => (claim.feature === feature && claim.working && 'value' in claim ? [claim.value] : []))
      expect([key, ...new Set(counts('tablets'))]).toEqual([key, String(document?.tablets.length)])
      expect([key, ...new Set(counts('repeatPicks'))]).toEqual([key, String(document?.picks.length)])
    }
  })

  test('name only colours of the draft in the yarns', () => {
    for (const { key, draft, yarns } of pieces) {
      const colours = draft ? Object.keys(drafts[draft].colours) : []
      const strange = yarns.filter(({ colourKey }) => colourKey !== undefined && !colours.includes(colourKey))
      expect([key, strange]).toEqual([key, []])
    }
  })

  test.each([
    ['museumFret', 1.51, 'larger'],
    ['guildHem', 1.07, 'larger'],
    ['kelderhowLozenge', 1.01, 'agrees'],
    ['drennetGirdle', 0.76, 'smaller'],
    ['tessaryPike', 1.18, 'undecided'],
  ])('tell of %s that its width is %f of the original: %s', (key, ratio, verdict) => {
    const piece = pieceOf(key)
    const original = originals.find((candidate) => candidate.key === piece.original)
    const compared = compareQuantities(widthOf(original?.claims ?? []), widthOf(piece.measurements))
    expect(compared.ratio).toBeCloseTo(ratio, 2)
    expect(compared.verdict).toBe(verdict)
  })
})
