import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { readYarnBuild, toBuildNotation, toBuildWords, type BuildStage, type Twist } from '../../shared/yarn/build.ts'

describe('readYarnBuild(text)', () => {
  test.each([
    ['Z', [{ strands: 1, twist: 'Z' }], 'Z-spun'],
    [
      'z2s',
      [
        { strands: 1, twist: 'Z' },
        { strands: 2, twist: 'S' },
      ],
      'Z-spun, 2 of them twisted S',
    ],
    [
      'Z 2S 3Z',
      [
        { strands: 1, twist: 'Z' },
        { strands: 2, twist: 'S' },
        { strands: 3, twist: 'Z' },
      ],
      'Z-spun, 2 of them twisted S, 3 of these twisted Z',
    ],
    ['i', [{ strands: 1, twist: 'I' }], 'without visible twist'],
    [
      '?2Z',
      [
        { strands: 1, twist: '?' },
        { strands: 2, twist: 'Z' },
      ],
      'spun, direction not made out, 2 of them twisted Z',
    ],
  ])('%s, in the order of making', (text, build, words) => {
    const read = readYarnBuild(text)
    expect(read).toEqual({ ok: true, build })
    if (read.ok) expect(toBuildWords(read.build)).toBe(words)
  })

  test.each(['', '2S', 'Z2', 'ZS', 'Z0S', 'Z2S2S2S2S2S', 'Z100S', 'zwei'])('refuses %j with a sentence', (text) => {
    expect(readYarnBuild(text)).toEqual({
      ok: false,
      message: 'Write the spin first, then each ply with its number: Z, Z2S or Z2S3Z.',
    })
  })

  test('refuses a ply of one strand', () => {
    expect(readYarnBuild('Z1S')).toEqual({ ok: false, message: 'A ply has two strands or more.' })
  })
})

test('toBuildNotation is read back as the same build', () => {
  const twist = fc.constantFrom<Twist>('S', 'Z', 'I', '?')
  const ply: fc.Arbitrary<BuildStage> = fc.record({ strands: fc.integer({ min: 2, max: 99 }), twist })
  fc.assert(
    fc.property(twist, fc.array(ply, { maxLength: 4 }), (spin, plies) => {
      const build = [{ strands: 1, twist: spin }, ...plies] as const
      expect(readYarnBuild(toBuildNotation(build))).toEqual({ ok: true, build })
    }),
  )
})

test('toBuildNotation refuses a build that has no notation', () => {
  expect(() => toBuildNotation([{ strands: 2, twist: 'S' }])).toThrow(/build\[0\]\.strands/)
  expect(() =>
    toBuildNotation([
      { strands: 1, twist: 'Z' },
      { strands: 1, twist: 'S' },
    ]),
  ).toThrow(/build\[1\]\.strands/)
})
