import sharp from 'sharp'
import { describe, expect, test } from 'vitest'
import { deltaE2000, labOfHex } from '../../shared/colour/lab.ts'
import type { Colour, Draft } from '../../shared/draft/draft.ts'
import { inferDraft } from '../../shared/draft/infer/infer.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { weave } from '../../shared/draft/weave.ts'
import { SLASH } from '../../shared/draft/woven.ts'
import { bandMap, type Bend, STRAIGHT } from '../../shared/observed/band-map.ts'
import { offerCounts } from '../../shared/observed/period.ts'
import { proposeColours, readColours } from '../../shared/observed/read-colours.ts'
import { sampleCells } from '../../shared/observed/sample.ts'
import { slantsOf } from '../../shared/observed/slant.ts'
import { toObservedFace } from '../../shared/observed/to-face.ts'
import { blockDraft, type Conditions, faceOf, photograph, type Photograph } from './photograph.ts'

const colour = (name: string, hex: string): Colour => ({ name, hex })
const [M, W, B, Y] = [
  colour('madder', '#9c3b2e'),
  colour('undyed', '#e9dfc8'),
  colour('woad', '#2f4a6b'),
  colour('weld', '#c9a227'),
]
/** Colours of a band that has lain in the ground: the two closest are 8.3 apart by CIEDE2000. */
const FADED = { m: colour('madder', '#8a4a3a'), k: colour('walnut', '#6f4a35'), y: colour('faded weld', '#b08a5a') }
/** Two browns, 8.8 apart. */
const BROWNS = { k: colour('one brown', '#a8683f'), h: colour('another', '#b5804f') }

/** All that is asked for at once: perspective, blur, noise, light half as bright again on one side, 15 % covered. */
const ROUGH: Conditions = { seed: 1, cellPx: 12, blurPx: 1.2, noise: 6, light: 0.6, missing: 0.15 }
const LEAST = 0.9

/** Reads a photograph as the page does; colours found are given the key that is nearest in colour. */
const read = (draft: Draft, conditions: Conditions, k: number, bend: Bend = STRAIGHT) =>
  readPhoto(draft, photograph(draft, conditions), k, bend)

function readPhoto(draft: Draft, photo: Photograph, k: number, bend: Bend) {
  const [tablets, picks] = [draft.tablets.length, draft.picks.length]
  const map = bandMap({ corners: photo.corners, bend, tablets, picks })
  const samples = sampleCells(photo.pixels, map, tablets, picks)
  const found = readColours(samples, k)
  const keys = keysOf(
    draft,
    found.colours.map(({ hex }) => hex),
  )
  const observed = toObservedFace(found, keys, LEAST)
  return { photo, map, samples, found, observed, score: scoreOf(draft, observed.cells, photo.covered) }
}

/** Each key goes to the colour found that is nearest to it; what is left over is none. */
function keysOf(draft: Draft, hexes: string[]): (string | null)[] {
  const keys = new Array<string | null>(hexes.length).fill(null)
  const pairs = Object.entries(draft.colours).flatMap(([key, { hex }]) =>
    hexes.map((found, at) => ({ key, at, far: deltaE2000(labOfHex(hex), labOfHex(found)) })),
  )
  for (const { key, at } of pairs.sort((a, b) => a.far - b.far)) {
    if (keys[at] === null && !keys.includes(key)) keys[at] = key
  }
  return keys
}

function scoreOf(draft: Draft, cells: readonly (readonly (string | null)[])[], covered: ReadonlySet<number>) {
  const score = { legible: 0, right: 0, wrong: 0, blank: 0, covered: covered.size, coveredRead: 0 }
  faceOf(draft).forEach((row, pick) =>
    row.forEach((key, tablet) => {
      const said = cells[pick]![tablet]!
      if (covered.has(pick * row.length + tablet)) score.coveredRead += said === null ? 0 : 1
      else {
        score.legible++
        score[said === key ? 'right' : said === null ? 'blank' : 'wrong']++
      }
    }),
  )
  return score
}

describe('a rendered band, photographed and read', () => {
  // Cells that are not covered count as legible, and one that is left open counts as not right.
  test.each([
    ['2 colours', { m: M, w: W }, ROUGH, 2],
    ['3 colours', { m: M, w: W, b: B }, { ...ROUGH, seed: 2 }, 3],
    ['4 colours', { m: M, w: W, b: B, y: Y }, { ...ROUGH, seed: 3 }, 4],
    ['3 faded colours', FADED, { ...ROUGH, seed: 4, cover: 'hole' as const }, 4],
    ['3 colours, nothing covered, sharp and even', { m: M, w: W, b: B }, { seed: 5, cellPx: 12 }, 3],
  ] as const)('of %s: at least 99 of 100 legible cells are right at 12 px a cell', (_, colours, conditions, k) => {
    const draft = blockDraft(conditions.seed, 16, 48, colours)
    const { score } = read(draft, conditions, k)
    expect(score.right / score.legible, JSON.stringify(score)).toBeGreaterThanOrEqual(0.99)
    expect(score.wrong).toBe(0)
    expect(score.coveredRead / Math.max(1, score.covered)).toBeLessThan(0.1)
  })

  test('of two browns 8.8 apart: few cells are left open, and of those that are not 99 in 100 are right', () => {
    const draft = blockDraft(6, 16, 48, BROWNS)
    const { score } = read(draft, { ...ROUGH, seed: 6 }, 2)
    expect(score.right / (score.right + score.wrong), JSON.stringify(score)).toBeGreaterThanOrEqual(0.99)
    expect(score.right / score.legible).toBeGreaterThanOrEqual(0.95)
  })

  test('bowed, with the handles on its mid-line: at least 99 of 100', () => {
    const draft = blockDraft(7, 16, 48, { m: M, w: W, b: B })
    const bow: Bend = [
      { across: 0.225, along: 0 },
      { across: 0.3, along: 0 },
      { across: 0.225, along: 0 },
    ]
    const { score } = read(draft, { ...ROUGH, seed: 7, bow: 0.3 }, 3, bow)
    expect(score.right / score.legible, JSON.stringify(score)).toBeGreaterThanOrEqual(0.99)
  })

  test('of loose fibres, on a cloth of its own colours, bowed, as a JPEG, its corners marked by hand: 97 of 100', async () => {
    const draft = blockDraft(16, 16, 48, { m: M, w: W, b: B })
    const bow: Bend = [
      { across: 0.15, along: 0 },
      { across: 0.2, along: 0 },
      { across: 0.15, along: 0 },
    ]
    const sharpOne = { ...ROUGH, seed: 16, skew: 0.14, light: 0.9, noise: 8, missing: 0.1, bow: 0.2 }
    const photo = photograph(draft, { ...sharpOne, fuzz: 3, isOnCloth: true })
    const { width, height, data } = photo.pixels
    const jpeg = await sharp(data, { raw: { width, height, channels: 4 } })
      .jpeg({ quality: 70 })
      .toBuffer()
    const bytes = await sharp(jpeg).ensureAlpha().raw().toBuffer()
    const { startLeft, startRight, endRight, endLeft } = photo.corners
    const corners = {
      startLeft: { x: startLeft.x + 2, y: startLeft.y - 1 },
      startRight: { x: startRight.x + 1, y: startRight.y + 2 },
      endRight: { x: endRight.x - 2, y: endRight.y },
      endLeft: { x: endLeft.x, y: endLeft.y + 2 },
    }
    const seen = { ...photo, corners, pixels: { width, height, data: new Uint8ClampedArray(bytes) } }
    const { score, map, samples } = readPhoto(draft, seen, 3, bow)
    // Soil under fibres is near enough to one shade to be proposed as a colour; who follows that has more left open, and no more wrong.
    expect(proposeColours(samples)).toBe(4)
    for (const [{ right, wrong, legible }, least] of [
      [score, 0.97],
      [readPhoto(draft, seen, 4, bow).score, 0.95],
    ] as const) {
      expect(right / legible, `${right} right, ${wrong} wrong of ${legible}`).toBeGreaterThanOrEqual(least)
      expect(wrong / legible).toBeLessThan(0.005)
    }
    expect(offerCounts(seen.pixels, map, 'across')[0]?.count).toBe(16)
    expect(offerCounts(seen.pixels, map, 'along')[0]?.count).toBe(48)
  })

  test('gives a face of which the true draft is one of the best explanations, tablet by tablet', () => {
    const draft = blockDraft(8, 16, 48, { m: M, w: W, b: B })
    const { observed } = read(draft, { ...ROUGH, seed: 8 }, 3)
    const unknown = { threading: null, holes: null, start: null, part: 'pattern' } as const
    const request = { colours: draft.colours, tablets: draft.tablets.map(() => unknown), observed, require: {} }
    const inferred = inferDraft(request, 'Read off')
    if (!inferred.ok) throw new Error(JSON.stringify(inferred.problems))
    const truth = faceOf(draft)
    const { turns } = turningOf(draft)
    let alike = 0
    for (const { tablet, mismatches, reversals } of inferred.inference.perTablet) {
      const at = tablet - 1
      const missed = observed.cells.filter((row, pick) => row[at] !== null && row[at] !== truth[pick]![at])
      expect(mismatches, `tablet ${tablet}`).toBe(missed.length)
      const own = truth.filter((_, pick) => pick > 0 && turns[pick * 16 + at] !== turns[(pick - 1) * 16 + at]).length
      // Of explanations with as few mismatches those with the fewest reversals are shown; where colours hide a reversal,
      // as on a border of one colour, the truth has more.
      expect(reversals, `tablet ${tablet}`).toBeLessThanOrEqual(own)
      alike += Number(reversals === own)
    }
    expect(alike).toBeGreaterThanOrEqual(4)
  })
})

describe('helps for who marks a photograph', () => {
  const cases = [
    [11, 16, 48],
    [12, 21, 40],
    [13, 12, 60],
  ] as const
  test.each(cases)(
    'offerCounts(pixels, map, direction) puts the true counts first (%i: %i x %i)',
    (seed, tablets, picks) => {
      const { photo, map } = read(blockDraft(seed, tablets, picks, { m: M, w: W, b: B }), { ...ROUGH, seed }, 3)
      const [across, along] = [offerCounts(photo.pixels, map, 'across'), offerCounts(photo.pixels, map, 'along')]
      expect(across[0]?.count).toBe(tablets)
      expect(along[0]?.count).toBe(picks)
      expect(across[0]!.strength).toBeGreaterThan(2)
    },
  )

  test('proposeColours(samples) proposes the number of colours where they are plain', () => {
    const { samples, found } = read(
      blockDraft(14, 16, 48, { m: M, w: W, b: B }),
      { ...ROUGH, seed: 14, cover: 'hole' },
      4,
    )
    expect(proposeColours(samples)).toBe(4)
    expect(found.lightRatio).toBeGreaterThan(1.2)
  })

  test('slantsOf(…) says of most stitches how they lean, and seldom wrongly', () => {
    const draft = blockDraft(15, 16, 48, { m: M, w: W, b: B })
    const { photo, map } = read(draft, { ...ROUGH, seed: 15, missing: 0 }, 3)
    const { slants } = slantsOf(photo.pixels, map, 16, 48, 0.3)
    const truth = weave(draft, turningOf(draft)).slant
    const said = slants.flatMap((slant, cell) =>
      slant === null ? [] : [slant === (truth[cell] === SLASH ? '/' : '\\')],
    )
    expect(said.length / slants.length).toBeGreaterThan(0.3)
    expect(said.filter(Boolean).length / said.length).toBeGreaterThan(0.95)
  })
})
