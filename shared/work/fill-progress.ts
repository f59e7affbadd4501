import { requirePositive } from '../measure/argument.ts'
import type { StagedSitting } from './net-progress.ts'

/** One repeat of the band: from the draft, and as measured on the piece. */
export interface RepeatSize {
  readonly picks?: number | undefined
  readonly lengthMm?: number | undefined
}

/**
 * Progress in every unit it can be had in: a sitting that states repeats but no picks gets the picks of so many
 * repeats, and the other way about; length likewise. What a sitting states itself is never touched.
 * @param sittings in any order
 * @param repeat picks of a repeat from the draft, length in mm as measured; each may be unknown
 * @returns the same sittings, filled in as far as that goes, unrounded
 * @throws RangeError when picks or lengthMm is not above zero
 * @example fillProgress([{ stage: 'weave', minutes: 60, breakMinutes: 0, picks: 36 }], { picks: 72, lengthMm: 90 })
 *   // repeats 0.5 and lengthMm 45 beside the picks
 * @example fillProgress([{ stage: 'weave', minutes: 60, breakMinutes: 0 }], { picks: 72 }) // nothing to go by: as it was
 * Source: our own.
 */
export function fillProgress<S extends StagedSitting>(sittings: readonly S[], repeat: RepeatSize): S[] {
  const perRepeat = {
    picks: repeat.picks === undefined ? undefined : requirePositive('repeat.picks', repeat.picks),
    repeats: 1,
    lengthMm: repeat.lengthMm === undefined ? undefined : requirePositive('repeat.lengthMm', repeat.lengthMm),
  }
  return sittings.map((sitting) => {
    // Repeats and picks are counted, a length is measured: so the length is asked last.
    const known = (['repeats', 'picks', 'lengthMm'] as const).find(
      (unit) => sitting[unit] !== undefined && perRepeat[unit],
    )
    if (!known) return sitting
    const repeats = (sitting[known] as number) / (perRepeat[known] as number)
    const filled = { ...sitting }
    for (const unit of ['repeats', 'picks', 'lengthMm'] as const) {
      const size = perRepeat[unit]
      if (filled[unit] === undefined && size !== undefined) Object.assign(filled, { [unit]: repeats * size })
    }
    return filled
  })
}
