import { parse } from 'edtf'
import { describe, expect, test } from 'vitest'
import { scenario } from '../../seeds-demo/scenario.ts'
import type { Claim } from '../../seeds-demo/type.ts'

const { sources, originals, drafts, pieces } = scenario
const holders: { key: string; claims: readonly Claim[] }[] = [
  ...originals,
  ...pieces.map(({ key, measurements }) => ({ key, claims: measurements })),
]
const claims = holders.flatMap((holder) => holder.claims)
const sittings = pieces.flatMap((piece) => piece.sittings)

describe('scenario', () => {
  test('holds at least four originals, seven pieces, five drafts and sixty sittings', () => {
    expect(originals.length).toBeGreaterThanOrEqual(4)
    expect(pieces.length).toBeGreaterThanOrEqual(7)
    expect(Object.keys(drafts)).toHaveLength(5)
    expect(sittings.length).toBeGreaterThanOrEqual(60)
  })

  test('has two makers, an abandoned start, a commission, and a piece at every step', () => {
    expect(new Set(pieces.map(({ maker }) => maker)).size).toBe(2)
    expect(pieces.filter(({ setAsideOn, setAsideReason }) => setAsideOn && setAsideReason)).toHaveLength(1)
    expect(pieces.filter(({ forWhom }) => forWhom?.startsWith('Commission'))).toHaveLength(1)
    const steps = pieces.map((piece) =>
      piece.setAsideOn
        ? 'set aside'
        : piece.finishedOn
          ? 'finished'
          : piece.wovenOn
            ? 'woven'
            : piece.onLoomOn
              ? 'on the loom'
              : 'planned',
    )
    expect(new Set(steps)).toEqual(new Set(['planned', 'on the loom', 'woven', 'finished', 'set aside']))
  })

  test('names each thing once and refers only to what is there', () => {
    for (const list of [sources, originals, pieces]) {
      expect(new Set(list.map(({ key }) => key)).size).toBe(list.length)
    }
    const known = (list: readonly { key: string }[], key: string | undefined) =>
      key === undefined || list.some((item) => item.key === key)
    expect(claims.filter(({ source }) => !known(sources, source))).toEqual([])
    expect(pieces.filter(({ original }) => !known(originals, original))).toEqual([])
    for (const holder of holders) {
      const keys = holder.claims.map(({ key }) => key)
      expect(holder.claims.filter(({ corrects }) => corrects !== undefined && !keys.includes(corrects))).toEqual([])
    }
  })

  test('uses every source and every draft', () => {
    const cited = new Set(claims.map(({ source }) => source))
    expect(sources.filter(({ key }) => !cited.has(key))).toEqual([])
    expect(new Set(pieces.map(({ draft }) => draft))).toEqual(new Set(Object.keys(drafts)))
  })

  test('dates the originals in a form that ISO 8601-2 knows', () => {
    for (const { dateEdtf } of originals) expect(() => parse(dateEdtf)).not.toThrow()
  })

  test('gives only example.org addresses', () => {
    const addresses = JSON.stringify(scenario).match(/https?:\/\/[^/"\s]+/g) ?? []
    expect(addresses.length).toBeGreaterThan(0)
    expect(addresses.filter((address) => !address.endsWith('.example.org'))).toEqual([])
  })
})
