/** A term of a published vocabulary, with the label that it has there. */
export interface Term {
  readonly id: string
  readonly label: string
}

const aat = (number: number, label: string): Term => ({ id: `http://vocab.getty.edu/aat/${number}`, label })

/**
 * Terms of the Art & Architecture Thesaurus of the Getty (ODC-By 1.0), each looked up; a thing without one here has words
 * alone. There is none for bands, weaving tablets or twist angle.
 */
export const TERMS = {
  textiles: aat(300014063, 'textiles (visual works)'),
  replicas: aat(300015642, 'replicas'),
  tabletWeaving: aat(300232219, 'tablet weaving'),
  millimetres: aat(300379097, 'millimeters'),
  centimetres: aat(300379098, 'centimeters'),
} as const

/** Features that the thesaurus has a term for. */
const OF_FEATURE: Readonly<Record<string, Term>> = {
  width: aat(300055647, 'width'),
  preservedLength: aat(300055645, 'length'),
  thickness: aat(300055646, 'thickness'),
  warpDiameter: aat(300055624, 'diameter'),
  weftDiameter: aat(300055624, 'diameter'),
  endsPerCm: aat(300387591, 'thread count'),
  picksPerCm: aat(300387591, 'thread count'),
  tablets: aat(300404433, 'count'),
}
export const termOfFeature = (key: string): Term | undefined =>
  Object.hasOwn(OF_FEATURE, key) ? OF_FEATURE[key] : undefined

const OF_FIBRE: Readonly<Record<string, Term>> = {
  wool: aat(300014074, 'wool'),
  flax: aat(300014041, 'flax'),
  linen: aat(300014041, 'flax'),
  silk: aat(300014072, 'silk'),
  hemp: aat(300014043, 'hemp'),
  nettle: aat(300374875, 'nettle'),
  cotton: aat(300183670, 'cotton fiber'),
  horsehair: aat(300011819, 'horse hair'),
}
/** Where the words are the name of a fibre and nothing else: "wool, perhaps" says something else. */
export function termOfFibre(words: string): Term | undefined {
  const key = words.trim().toLowerCase()
  return Object.hasOwn(OF_FIBRE, key) ? OF_FIBRE[key] : undefined
}
