import { measureComplexity } from '../../shared/draft/tell/complexity.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { meanOf } from '../../shared/measure/univariate.ts'
import { findRepeatLength } from '../compare/queries.ts'
import type { Db } from '../db/open.ts'
import { findRevisionById } from '../draft/revision-queries.ts'
import { listPieces, listPieceYarns } from '../piece/queries.ts'
import { toTex } from '../piece/yarn-form.ts'
import { piecePace } from '../sitting/pace.ts'
import { listSittings } from '../sitting/queries.ts'

/** A piece with its pace, and what may make a pick longer. */
export interface PacedPiece {
  readonly id: number
  readonly name: string
  readonly maker: string
  /** Of time at the loom, unweaving included, for each pick that stayed. */
  readonly seconds: number
  readonly sittings: number
  readonly handfuls: number
  readonly bits: number
  readonly tablets: number
  /** Mean of the warp yarns noted with it, plied; undefined where none has a count. */
  readonly tex: number | undefined
}

/** Every piece that the viewer may see with its draft and whose sittings say how many picks were woven in what time. */
export function listPacedPieces(db: Db): PacedPiece[] {
  return listPieces(db).flatMap((piece) => {
    const revision = piece.draftRevisionId === undefined ? undefined : findRevisionById(db, piece.draftRevisionId)
    const sittings = revision ? listSittings(db, piece.id) : []
    if (!revision || sittings.length === 0) return []
    const { pace } = piecePace(sittings, revision.draft, findRepeatLength(db, piece.id, revision.draft))
    if (pace.picksPerHour === null || pace.picksPerHour <= 0) return []
    const { tablets, handfulsPerPick, bitsPerPick } = measureComplexity(turningOf(revision.draft))
    return [
      {
        ...{ id: piece.id, name: piece.name, maker: piece.maker, seconds: 3600 / pace.picksPerHour },
        ...{ sittings: pace.base.picks.n, handfuls: handfulsPerPick, bits: bitsPerPick, tablets },
        tex: warpTex(db, piece.id),
      },
    ]
  })
}

function warpTex(db: Db, pieceId: number): number | undefined {
  const texes = listPieceYarns(db, pieceId)
    .filter(({ role }) => /warp|border/i.test(role))
    .flatMap((yarn) => toTex(yarn)?.resultantTex ?? [])
  return texes.length === 0 ? undefined : meanOf(texes)
}
