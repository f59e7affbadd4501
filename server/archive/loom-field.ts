import { MOST_PLACE, STEP_KINDS } from '../../shared/loom/step.ts'
import { field, oneOf, to, type Field } from './field.ts'
import { LENGTH_OF } from './length.ts'
import { instant, number, text, uid, zone } from './value.ts'

/** Of a step at the loom: who took it is a member's name, and an archive has none. */
export const LOOM_STEP_FIELDS: readonly Field[] = [
  to('piece', 'piece'),
  to('draftRevision', 'revision'),
  field('device', uid()),
  field('seq', number(1, 1_000_000_000)),
  field('kind', oneOf(STEP_KINDS)),
  field('place', number(0, MOST_PLACE)),
  ...['at', 'deviceAt', 'receivedAt'].map((key) => field(key, instant())),
  field('zone', zone()),
  field('note', text(LENGTH_OF.lines)),
]
