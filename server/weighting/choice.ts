import { EQUAL_WEIGHTS, type Weights } from '../../shared/fidelity/total.ts'
import type { Db } from '../db/open.ts'
import { readEntered } from '../form.ts'
import { viewerMayCreate, viewerMayEdit } from '../rights/allowed.ts'
import { currentViewer } from '../rights/viewer.ts'
import { listWeightings } from './queries.ts'

/** By which weights a page makes its total, and which others there are. */
export interface WeightingChoice {
  readonly name: string
  readonly weights: Weights
  readonly view: {
    readonly name: string
    readonly notes: string
    readonly options: readonly { readonly value: string; readonly label: string; readonly selected: boolean }[]
    readonly editPath: string
    readonly newPath: string
  }
}

export const EQUAL = 'all aspects alike'

/** `?by=12` names a weighting that was kept; without one, or with one that is not to be seen, all aspects count alike. */
export function readWeighting(db: Db, query: unknown): WeightingChoice {
  const { by } = readEntered(query, ['by'])
  const kept = currentViewer().kind === 'anonymous' ? [] : listWeightings(db)
  const chosen = kept.find(({ id }) => String(id) === by)
  return {
    name: chosen?.name ?? EQUAL,
    weights: chosen?.weights ?? EQUAL_WEIGHTS,
    view: {
      name: chosen?.name ?? EQUAL,
      notes: chosen?.notes ?? '',
      options: [
        { value: '', label: EQUAL, selected: !chosen },
        ...kept.map(({ id, name }) => ({ value: String(id), label: name, selected: id === chosen?.id })),
      ],
      editPath: chosen && viewerMayEdit(db, 'weighting', chosen.id) ? `/weightings/${chosen.id}/edit` : '',
      newPath: viewerMayCreate() ? '/weightings/new' : '',
    },
  }
}
