import { requireWhole } from '../measure/argument.ts'

/** Direction of twist; `I` is no twist to be seen, `?` one that could not be made out. */
export type Twist = 'S' | 'Z' | 'I' | '?'

/** One stage in the making of a thread: how many strands were twisted together, and which way. */
export interface BuildStage {
  readonly strands: number
  readonly twist: Twist
}

/** The stages of a thread in the order of making: the spin of the single first, of one strand. */
export type YarnBuild = readonly [BuildStage, ...BuildStage[]]

/**
 * The build of a thread as it is typed, in the order of making: `Z` is a Z-spun single, `Z2S` two of them plied S,
 * `Z2S3Z` three of those cabled Z. Small letters are the same as capitals. Mind that some authors write the ply first;
 * turn theirs round before it is typed in.
 * @param text the notation, spaces allowed between its signs
 * @returns the stages, or a sentence for whoever typed it; 2 to 99 strands a stage, five stages at most
 * @example readYarnBuild('z2s') // [{ strands: 1, twist: 'Z' }, { strands: 2, twist: 'S' }]
 * @example readYarnBuild('2S') // refused: the spin of the single comes first
 * Source: the order is that of the single-to-fold notation of ISO 1139, clause 4; the bare signs are common practice.
 */
export function readYarnBuild(text: string): { ok: true; build: YarnBuild } | { ok: false; message: string } {
  const signs = text.replace(/\s+/gu, '').toUpperCase()
  if (!/^[SZI?](?:[1-9]\d?[SZI?]){0,4}$/u.test(signs))
    return { ok: false, message: 'Write the spin first, then each ply with its number: Z, Z2S or Z2S3Z.' }
  const plies = [...signs.slice(1).matchAll(/(\d+)([SZI?])/gu)].map(([, strands, twist]) => ({
    strands: Number(strands),
    twist: asTwist(twist),
  }))
  if (plies.some(({ strands }) => strands < 2)) return { ok: false, message: 'A ply has two strands or more.' }
  return { ok: true, build: [{ strands: 1, twist: asTwist(signs[0]) }, ...plies] }
}

/**
 * The notation that `readYarnBuild` reads.
 * @param build stages in the order of making
 * @returns as `Z2S`
 * @throws RangeError when the first stage is not one strand, or a later one has fewer than two
 * @example toBuildNotation([{ strands: 1, twist: 'Z' }, { strands: 2, twist: 'S' }]) // 'Z2S'
 */
export function toBuildNotation([single, ...plies]: YarnBuild): string {
  if (single.strands !== 1) throw new RangeError(`build[0].strands must be 1, not ${single.strands}`)
  const later = plies.map(
    ({ strands, twist }, index) => `${requireWhole(`build[${index + 1}].strands`, strands, 2)}${twist}`,
  )
  return single.twist + later.join('')
}

const SPUN: Readonly<Record<Twist, string>> = {
  S: 'S-spun',
  Z: 'Z-spun',
  I: 'without visible twist',
  '?': 'spun, direction not made out',
}
const PLIED: Readonly<Record<Twist, string>> = {
  S: 'twisted S',
  Z: 'twisted Z',
  I: 'laid together without twist',
  '?': 'twisted, direction not made out',
}

/**
 * The build of a thread in words.
 * @param build stages in the order of making
 * @returns as `Z-spun, 2 of them twisted S, 3 of these twisted Z`
 * @example toBuildWords([{ strands: 1, twist: 'I' }]) // 'without visible twist'
 */
export function toBuildWords([single, ...plies]: YarnBuild): string {
  const later = plies.map(
    ({ strands, twist }, index) => `${strands} of ${index === 0 ? 'them' : 'these'} ${PLIED[twist]}`,
  )
  return [SPUN[single.twist], ...later].join(', ')
}

function asTwist(sign: string | undefined): Twist {
  if (sign === 'S' || sign === 'Z' || sign === 'I' || sign === '?') return sign
  throw new RangeError(`twist must be S, Z, I or ?, not ${sign}`)
}
