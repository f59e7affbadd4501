import { COUNT_SYSTEMS, type CountSystem, texOf } from './count.ts'
import type { Counted } from './count-custom.ts'

/** What a yarn's count says, read one way. */
export interface CountReading {
  readonly system: CountSystem
  /** The number as written, in its system. */
  readonly value: number
  readonly ply: number
  /** Whether the number counts one single, or the whole yarn (as with spun silk, yd/lb and m/100 g). */
  readonly of: Counted
  readonly singleTex: number
  /** Of the whole yarn: the singles together, or what was measured where an `R` figure is written. */
  readonly resultantTex: number
  /** Share of length lost by plying, where both figures are written. */
  readonly contraction?: number
  /** What it was taken to say, as a sentence. */
  readonly sentence: string
}

/**
 * A count read in one way.
 * @param value the count, more than zero
 * @param of what it counts, one single or the whole yarn
 * @throws RangeError when the value is out of range
 * @example toReading('Nm', 28, 2, 'single').resultantTex // 71.4
 */
export function toReading(system: CountSystem, value: number, ply: number, of: Counted): CountReading {
  const tex = texOf(value, system)
  const singleTex = of === 'whole' ? tex / ply : tex
  const resultantTex = singleTex * ply
  return {
    system,
    value,
    ply,
    of,
    singleTex,
    resultantTex,
    sentence: sentenceOf(system, value, ply, of, singleTex, resultantTex),
  }
}

function sentenceOf(
  system: CountSystem,
  value: number,
  ply: number,
  of: Counted,
  singleTex: number,
  resultantTex: number,
): string {
  const { label } = COUNT_SYSTEMS[system]
  if (ply === 1)
    return `${label} ${say(value)}, ${of === 'whole' ? 'the yarn as it is' : 'a single'}: ${say(resultantTex)} tex.`
  const counted =
    of === 'whole' ? `${label} ${say(value)} counts the plied yarn` : `${label} ${say(value)} counts one single`
  return `${counted}, ${ply} of them plied: ${say(singleTex)} tex x ${ply}, ${say(resultantTex)} tex together.`
}

/** Three figures, for a sentence: 71.4285 is 71.4. */
export function say(value: number): string {
  return String(Number(value.toPrecision(3)))
}
