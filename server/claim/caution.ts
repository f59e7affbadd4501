import type { Feature } from '../../shared/measure/feature.ts'
import type { Subject } from './queries.ts'

// After the handling advice of the Smithsonian Museum Conservation Institute and the health and safety pages of the American
// Institute for Conservation (residues: arsenic, mercury, DDT; not visible). On gloves the sources differ, so the holder says.
const HANDLING =
  'Handling an original: the holder’s rules come first. Clean hands, or gloves if the holder says so; pencil only; the textile ' +
  'lies fully supported on a clean surface. Old textiles may carry pesticide residues that nobody can see: ask the holder.'

// After the rules of J. Dean, The Craft of Natural Dyeing, and NIOSH on chromium(VI); local rules for waste: common practice, no source.
const DYEING =
  'If you try a dye or mordant yourself: read its safety data sheet first, keep dyepots away from food, and follow the local ' +
  'rules for the waste. “Natural” is not “safe”.'

export interface Caution {
  readonly about: 'handling' | 'dyeing'
  readonly text: string
}

/** The cautions that belong beside a claim about this feature: the object is handled, or a dye is spoken of. */
export function cautionsFor(subject: Subject, feature: Feature, mayBeSeen: boolean): Caution[] {
  return [
    ...('originalId' in subject && mayBeSeen ? [{ about: 'handling' as const, text: HANDLING }] : []),
    ...(feature.kind === 'dye' ? [{ about: 'dyeing' as const, text: DYEING }] : []),
  ]
}
