import type { Aspect, Place, Spot } from '../../shared/fidelity/aspect.ts'
import { proposeRelation, proposeTogether } from '../../shared/fidelity/measured.ts'
import type { Relation } from '../../shared/fidelity/relation.ts'
import type { FeatureGroup } from '../../shared/measure/feature.ts'
import { figureLine } from '../claim/figure.ts'
import type { Evidence, EvidenceOf } from '../compare/evidence.ts'
import { compareEvidence, toComparison, toSide, type ResultView } from '../compare/row.ts'
import type { ComparedPiece } from '../compare/queries.ts'
import type { ShelfLot } from '../yarn/queries.ts'
import { lotLabel } from '../yarn/swatch.ts'

/** One line of what a side says, with where it stands. */
export interface Said {
  readonly text: string
  /** `seen on the object, as preserved; Holm 2011, p. 4`; empty when there is nothing to add. */
  readonly from: string
  readonly path: string
}

/** A feature that both sides have measured. */
export interface Measured {
  readonly label: string
  readonly result: ResultView
  readonly proposed: Relation
}

/** What is on record for an aspect at a place, before anybody judges it. */
export interface SpotEvidence {
  readonly original: readonly Said[]
  readonly piece: readonly Said[]
  readonly measured: readonly Measured[]
  /** What the measured features propose; undefined where none is. */
  readonly proposed: Relation | undefined
}

const ASPECT_OF_GROUP: Readonly<Record<FeatureGroup, Aspect>> = {
  dimensions: 'dimensions',
  density: 'density',
  warp: 'spinning',
  weft: 'spinning',
  colour: 'dye',
  structure: 'structure',
}
const OWN_ASPECT: Readonly<Record<string, Aspect>> = {
  ...{ warpFibre: 'fibre', weftFibre: 'fibre', repeatPicks: 'pattern', repeatLength: 'dimensions' },
}

/** Which aspect and place a piece of evidence speaks of: by its feature, and by which yarn or part it names. */
function spotOf({ feature, part }: Evidence): Spot {
  const aspect = OWN_ASPECT[feature.key] ?? ASPECT_OF_GROUP[feature.group]
  const isOfYarn = aspect === 'fibre' || aspect === 'spinning' || aspect === 'dye'
  if (feature.key === 'edges' || (/border|edge|selvedge/i.test(part) && aspect !== 'dimensions'))
    return { aspect, place: 'borders' }
  if (!isOfYarn) return { aspect, place: 'whole' }
  return { aspect, place: feature.group === 'weft' || /\bweft/i.test(part) ? 'weft' : 'warp' }
}

/** @param lots those that the viewer may see, for the yarns of the piece that came from one */
export function spotEvidence(compared: ComparedPiece, lots: readonly ShelfLot[], spot: Spot): SpotEvidence {
  const { sides, original, piece } = compared
  const isHere = (evidence: Evidence) => {
    const found = spotOf(evidence)
    return found.aspect === spot.aspect && found.place === spot.place
  }
  const said = (of: EvidenceOf, path: string) =>
    [...of.values()].filter(isHere).map((evidence) => toSaid(evidence, path))
  const measured = [...sides.original.entries()].flatMap(([key, evidence]) => {
    const other = sides.replica.get(key)
    const comparison = isHere(evidence) ? toComparison(evidence, other) : undefined
    const result = comparison && compareEvidence(evidence, other)
    const label = [evidence.feature.label, evidence.part].filter(Boolean).join(', ')
    return comparison && result ? [{ label, result, proposed: proposeRelation(comparison) }] : []
  })
  return {
    original: original ? said(sides.original, `/originals/${original.id}`) : [],
    piece: [...said(sides.replica, `/pieces/${piece.id}`), ...yarnsSaid(compared, lots, spot)],
    measured,
    proposed: proposeTogether(measured.map(({ proposed }) => proposed)),
  }
}

function toSaid(evidence: Evidence, path: string): Said {
  const { feature, part, claim } = evidence
  const side = toSide(evidence, path)
  const label = [feature.label, part].filter(Boolean).join(', ')
  const value = claim ? figureLine(claim, feature) : side.main
  return {
    text: `${label}: ${value}`,
    from: [claim ? side.details.split('; ').at(-1) : '', side.from].filter(Boolean).join('; '),
    path: side.path,
  }
}

const ROLE_OF: Readonly<Partial<Record<Place, RegExp>>> = {
  warp: /^(?!.*(?:border|edge|selvedge|weft)).*$/i,
  weft: /weft/i,
  borders: /border|edge|selvedge/i,
}

/** What the yarns of the piece say of fibre, spinning or colour at this place. */
function yarnsSaid({ piece, yarns }: ComparedPiece, lots: readonly ShelfLot[], { aspect, place }: Spot): Said[] {
  const role = ROLE_OF[place]
  if (!role || (aspect !== 'fibre' && aspect !== 'spinning' && aspect !== 'dye')) return []
  return yarns.flatMap((yarn) => {
    if (!role.test(yarn.role)) return []
    const lot = lots.find(({ id }) => id === yarn.lotId)
    const facts = {
      fibre: [yarn.yarn, lot?.yarn.blend],
      spinning: [yarn.yarn, lot?.yarn.count || (yarn.count && `${yarn.countSystem} ${yarn.count}`), lot?.yarn.build],
      dye: lot ? [lot.colourName, lot.dye && `dyed with ${lot.dye}`, lot.mordant && `mordant ${lot.mordant}`] : [],
    }[aspect].filter(Boolean)
    if (facts.length === 0) return []
    const from = lot ? `lot ${lotLabel(lot)}` : 'the yarns of the piece'
    return [
      { text: `${yarn.role}: ${facts.join(', ')}`, from, path: lot ? `/lots/${lot.id}` : `/pieces/${piece.id}#yarns` },
    ]
  })
}
