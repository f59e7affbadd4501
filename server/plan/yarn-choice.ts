import type { YarnChoice } from '../../shared/plan/facts.ts'
import type { Db } from '../db/open.ts'
import { listPieceLots } from '../yarn/ledger-queries.ts'
import { listLots, listYarns } from '../yarn/queries.ts'

/**
 * What a plan may choose: the lots on the shelf, and the kinds of yarn. What is reserved for this piece already is free for
 * it; prices stay in the store.
 */
export function listYarnChoices(db: Db, pieceId: number): YarnChoice[] {
  const reserved = new Map(listPieceLots(db, pieceId).map(({ lotId, reservedMg }) => [lotId, reservedMg]))
  const lots = listLots(db).map(({ id, yarn, colourName, lotNumber, freeMg }) => ({
    value: `lot-${id}`,
    label: [yarn.name, colourName, lotNumber && `lot ${lotNumber}`].filter(Boolean).join(', '),
    tex: yarn.reading?.resultantTex ?? null,
    densityGPerCm3: yarn.densityGPerCm3 ?? null,
    freeG: (freeMg + (reserved.get(id) ?? 0)) / 1000,
  }))
  const yarns = listYarns(db).map(({ id, name, reading, densityGPerCm3 }) => ({
    value: `yarn-${id}`,
    label: `${name}, any lot`,
    tex: reading?.resultantTex ?? null,
    densityGPerCm3: densityGPerCm3 ?? null,
    freeG: null,
  }))
  return [...lots, ...yarns]
}
