import type { Feature } from '../../shared/measure/feature.ts'
import { CAUTIONS } from '../caution.ts'
import type { Subject } from './queries.ts'

export interface Caution {
  readonly about: 'handling' | 'dyeing'
  readonly text: string
}

/** The cautions that belong beside a claim about this feature: the object is handled, or a dye is spoken of. */
export function cautionsFor(subject: Subject, feature: Feature, mayBeSeen: boolean): Caution[] {
  const about: Caution['about'][] = []
  if ('originalId' in subject && mayBeSeen) about.push('handling')
  if (feature.kind === 'dye') about.push('dyeing')
  return about.map((key) => ({ about: key, text: CAUTIONS[key].text }))
}
