import { sayCount, sayListed } from '../number-words.ts'
import type { Inference, TabletFinding } from './infer.ts'
import { countLegible, type ObservedFace } from './observed.ts'

/** What was worked out, as sentences. */
export interface InferenceWords {
  /** How well the draft explains the face. */
  readonly fit: string
  /** How many drafts do so as well. */
  readonly many: string
  /** The one look at the original that would help the most; empty when none would. */
  readonly look: string
  /** Tablets whose threading nobody could tell; empty when there is none. */
  readonly threading: string
}

/**
 * What was worked out in words.
 * @example sayInference(inference, observed).fit // 'The draft shows what was seen in all 428 legible cells of 504.'
 */
export function sayInference({ mismatches, perTablet }: Inference, observed: ObservedFace): InferenceWords {
  const { cells, legible, slants } = countLegible(observed)
  const colours = mismatches.filter(({ of }) => of === 'colour').length
  const leaning = mismatches.length - colours
  const differs =
    colours === 0
      ? `The draft shows what was seen in all ${legible} legible cells of ${cells}.`
      : `${sayCount(colours, 'cell')} of ${legible} legible ones (of ${cells}) ${colours === 1 ? 'shows' : 'show'} another colour than was seen.`
  const lean =
    slants === 0
      ? ''
      : ` ${leaning === 0 ? 'All' : slants - leaning} of ${sayCount(slants, 'legible slant')} lean as seen.`
  const open = perTablet.filter(({ solutions }) => solutions !== '1').map(({ tablet }) => tablet)
  const unthreaded = perTablet.filter(({ threadingIsOpen }) => threadingIsOpen).map(({ tablet }) => tablet)
  return {
    fit: differs + lean,
    many:
      open.length === 0
        ? 'No other turning of any tablet does it as well with as few reversals.'
        : `${sayCount(open.length, 'tablet')} of ${perTablet.length} could be turned in other ways that are as good: ${sayListed('tablet', open)}.`,
    look: sayLook(perTablet),
    threading:
      unthreaded.length === 0
        ? ''
        : `Nothing tells S from Z for ${sayListed('tablet', unthreaded)}; S was put down. A legible slant would tell.`,
  }
}

/** The look that rules out the largest share of a tablet's solutions. */
function sayLook(perTablet: readonly TabletFinding[]): string {
  const looks = perTablet.flatMap(({ tablet, solutions, decides }) =>
    decides ? [{ tablet, solutions, decides, share: ratio(decides.leaves, solutions) }] : [],
  )
  const [best] = looks.sort((a, b) => a.share - b.share || a.tablet - b.tablet)
  if (!best) return ''
  const { tablet, decides, solutions } = best
  const what = decides.of === 'colour' ? 'colour' : 'slant'
  return `The ${what} of tablet ${tablet} at pick ${decides.pick} would help the most: it would leave ${sayMost(decides.leaves)} of ${sayLarge(solutions)} ways for that tablet.`
}

const sayMost = (leaves: string) => (leaves === '1' ? 'one' : `at most ${sayLarge(leaves)}`)

function ratio(part: string, whole: string): number {
  return Number((BigInt(part) * 1_000_000n) / BigInt(whole))
}

/**
 * A count that may be beyond all counting: figures in groups, or a power of ten.
 * @param count decimal digits
 * @example sayLarge('12345') // '12,345'; sayLarge('1234567890123456') // 'about 1.2 × 10^15'
 */
export function sayLarge(count: string): string {
  if (count.length <= 12) return count.replace(/\B(?=(\d{3})+$)/g, ',')
  return `about ${count[0]!}.${count[1]!} × 10^${count.length - 1}`
}

/**
 * What is open about one tablet, in words; empty when nothing is.
 * @param isOneColour whether all its threads are of one colour
 * @example sayTablet(finding, true) // '8 ways. All its threads are of one colour, so only a legible slant tells forward from back.'
 */
export function sayTablet(
  { solutions, turnDiffers, colourDiffers, decides }: TabletFinding,
  isOneColour: boolean,
): string {
  if (solutions === '1') return ''
  const ways = `${sayLarge(solutions)} ways.`
  if (isOneColour) {
    return `${ways} All its threads are of one colour, so the start makes no difference and only a legible slant tells forward from back.`
  }
  const differ =
    turnDiffers.length === 0
      ? 'They differ in the start alone.'
      : colourDiffers.length === 0
        ? `They differ in the turning of ${sayListed('pick', turnDiffers)}; the colours are the same.`
        : `They differ in the turning of ${sayListed('pick', turnDiffers)}, and in the colour of ${sayListed('pick', colourDiffers)}.`
  const look = decides ? ` The ${decides.of} at pick ${decides.pick} would leave ${sayMost(decides.leaves)}.` : ''
  return `${ways} ${differ}${look}`
}
