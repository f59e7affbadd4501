import { densityOfBlend, type FibreDensity } from '../../shared/yarn/density.ts'
import type { BlendPart } from '../../shared/yarn/fibre.ts'
import type { YarnChoice } from '../../shared/plan/facts.ts'
import type { Db } from '../db/open.ts'
import { listPieceLots } from '../yarn/ledger-queries.ts'
import { listLots, listYarns } from '../yarn/queries.ts'

const measuredOf = (typed: string | undefined): number | null => (typed === undefined ? null : Number(typed))

/**
 * What a plan may choose: the lots on the shelf, and the kinds of yarn. What is reserved for this piece already is free for
 * it; prices stay in the store.
 * @param densities as the maker of the piece goes by them, who need not be the viewer
 */
export function listYarnChoices(db: Db, pieceId: number, densities: readonly FibreDensity[]): YarnChoice[] {
  const densityOf = (parts: readonly BlendPart[]) => densityOfBlend(parts, densities) ?? null
  const reserved = new Map(listPieceLots(db, pieceId).map(({ lotId, reservedMg }) => [lotId, reservedMg]))
  const lots = listLots(db).map(({ id, yarn, colourName, lotNumber, freeMg }) => ({
    value: `lot-${id}`,
    label: [yarn.name, colourName, lotNumber && `lot ${lotNumber}`].filter(Boolean).join(', '),
    tex: yarn.reading?.resultantTex ?? null,
    density: densityOf(yarn.parts),
    measuredMm: measuredOf(yarn.diameterMm),
    freeG: (freeMg + (reserved.get(id) ?? 0)) / 1000,
  }))
  const yarns = listYarns(db).map(({ id, name, reading, parts, diameterMm }) => ({
    value: `yarn-${id}`,
    label: `${name}, any lot`,
    tex: reading?.resultantTex ?? null,
    density: densityOf(parts),
    measuredMm: measuredOf(diameterMm),
    freeG: null,
  }))
  return [...lots, ...yarns]
}
