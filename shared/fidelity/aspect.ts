/** One side of how near a piece comes to its original, in the order in which pages show them. */
export const ASPECTS = [
  'fibre',
  'spinning',
  'dye',
  'density',
  'structure',
  'pattern',
  'dimensions',
  'tools',
  'finishing',
] as const
export type Aspect = (typeof ASPECTS)[number]

export const ASPECT_LABELS: Readonly<Record<Aspect, string>> = {
  fibre: 'Fibre',
  spinning: 'Spinning and ply',
  dye: 'Dye and colour',
  density: 'Density',
  structure: 'Structure',
  pattern: 'Pattern',
  dimensions: 'Dimensions',
  tools: 'Tools and process',
  finishing: 'Finishing',
}

/** Where in the band an aspect is judged. */
export const PLACES = ['whole', 'warp', 'weft', 'borders'] as const
export type Place = (typeof PLACES)[number]

export const PLACE_LABELS: Readonly<Record<Place, string>> = {
  whole: 'the whole band',
  warp: 'warp',
  weft: 'weft',
  borders: 'borders',
}

interface Places {
  /** Judged for every piece. */
  readonly always: readonly Place[]
  /** Judged apart only where they differ from the rest; what is said of the warp or of the whole holds for them until then. */
  readonly apart: readonly Place[]
}

const OF_YARN: Places = { always: ['warp', 'weft'], apart: ['borders'] }
const OF_WEAVE: Places = { always: ['whole'], apart: ['borders'] }
const OF_BAND: Places = { always: ['whole'], apart: [] }

/** At which places each aspect is judged. */
export const ASPECT_PLACES: Readonly<Record<Aspect, Places>> = {
  fibre: OF_YARN,
  spinning: OF_YARN,
  dye: OF_YARN,
  density: OF_WEAVE,
  structure: OF_WEAVE,
  pattern: OF_WEAVE,
  dimensions: OF_BAND,
  tools: OF_BAND,
  finishing: OF_BAND,
}

/** An aspect at a place: what one judgement is about. */
export interface Spot {
  readonly aspect: Aspect
  readonly place: Place
}

/** `fibre-warp`: its name in addresses and forms. */
export const spotKey = ({ aspect, place }: Spot): string => `${aspect}-${place}`

/**
 * The aspect and place that a key names.
 * @param key as `spotKey` writes it
 * @returns undefined for a place at which that aspect is not judged
 * @example findSpot('fibre-weft') // { aspect: 'fibre', place: 'weft' }; findSpot('tools-weft') // undefined
 */
export const findSpot = (key: string): Spot | undefined => SPOTS.find((spot) => spotKey(spot) === key)

/** Every aspect at every place at which it can be judged, in the order of pages. */
export const SPOTS: readonly Spot[] = ASPECTS.flatMap((aspect) =>
  [...ASPECT_PLACES[aspect].always, ...ASPECT_PLACES[aspect].apart].map((place) => ({ aspect, place })),
)
