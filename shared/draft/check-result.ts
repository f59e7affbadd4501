/** Tablets and picks that a check speaks of, counted from 1. */
export interface CheckPlace {
  readonly tablets: readonly number[]
  readonly from: number
  readonly to: number
  readonly side?: 'face' | 'reverse'
}

export interface Check {
  readonly key: 'twist' | 'closure' | 'floats' | 'seam' | 'still' | 'hidden' | 'borders' | 'parity'
  /** `good`: as most weavers want it. `note`: worth knowing, often meant. `warn`: look at it before weaving. */
  readonly verdict: 'good' | 'note' | 'warn'
  /** Whole sentences in plain words. */
  readonly text: string
  /** The longest and first of the places, 50 at most. */
  readonly places?: readonly CheckPlace[]
}

const MOST_PLACES = 50

/**
 * Gathers places one tablet at a time and folds tablets that share their picks (and side) into one place.
 * @returns `add` to hand in a place, tablets rising for each range of picks, and `list` for the longest places first
 * @example add(1, 4, 9); add(2, 4, 9); list() // [{ tablets: [1, 2], from: 4, to: 9 }]
 */
export function gatherPlaces() {
  const found = new Map<string, { tablets: number[]; from: number; to: number; side?: 'face' | 'reverse' }>()
  return {
    add(tablet: number, from: number, to: number, side?: 'face' | 'reverse'): void {
      const key = `${from} ${to} ${side ?? ''}`
      const place = found.get(key)
      if (place === undefined) found.set(key, { tablets: [tablet], from, to, ...(side && { side }) })
      else if (place.tablets.at(-1) !== tablet) place.tablets.push(tablet)
    },
    list(): CheckPlace[] {
      const places = [...found.values()]
      for (const { tablets } of places) tablets.sort((a, b) => a - b)
      places.sort((a, b) => b.to - b.from - (a.to - a.from) || a.from - b.from || a.tablets[0]! - b.tablets[0]!)
      return places
    },
  }
}

/** The first places of a long list, as many as a page can use. */
export function fewPlaces(places: readonly CheckPlace[]): readonly CheckPlace[] {
  return places.slice(0, MOST_PLACES)
}
