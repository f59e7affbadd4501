import { weave } from '../../shared/draft/weave.ts'
import { boundDraft } from '../../shared/draft/entry/bound.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import type { Woven } from '../../shared/draft/woven.ts'
import type { Feature } from '../../shared/measure/feature.ts'
import { listFeatures } from '../claim/feature-queries.ts'
import { listWorkingClaims } from '../claim/queries.ts'
import type { Db } from '../db/open.ts'
import { findRevisionById } from '../draft/revision-queries.ts'
import { findOriginal, type Original } from '../original/queries.ts'
import { findPiece, listPieceYarns, type Piece } from '../piece/queries.ts'
import type { PieceYarn } from '../piece/yarn-form.ts'
import { viewerMayEdit } from '../rights/allowed.ts'
import { listSittings, type Sitting } from '../sitting/queries.ts'
import type { RepeatLength } from '../sitting/pace.ts'
import { gatherEvidence, repeatLengthOf, type EvidenceOf } from './evidence.ts'

/** All that a comparison of one piece with its original rests on. */
export interface ComparedPiece {
  readonly piece: Piece
  /** Undefined for an own design. */
  readonly original: Original | undefined
  readonly draft:
    | {
        readonly draft: Draft
        /** Of as many first picks as one picture holds. */
        readonly woven: Woven
        readonly path: string
      }
    | undefined
  /** It follows an original, or is woven from a draft, that the viewer may not see. */
  readonly hides: { readonly original: boolean; readonly draft: boolean }
  /** Whether the viewer may add what a side lacks. */
  readonly mayEdit: { readonly original: boolean; readonly replica: boolean }
  readonly features: readonly Feature[]
  readonly sides: { readonly original: EvidenceOf; readonly replica: EvidenceOf }
  readonly yarns: readonly PieceYarn[]
  readonly sittings: readonly Sitting[]
}

export function findComparedPiece(db: Db, pieceId: number): ComparedPiece | undefined {
  const piece = findPiece(db, pieceId)
  if (!piece) return undefined
  const features = listFeatures(db)
  const byKey = new Map(features.map((feature) => [feature.key, feature]))
  const original = piece.originalId === undefined ? undefined : findOriginal(db, piece.originalId)
  const revision = piece.draftRevisionId === undefined ? undefined : findRevisionById(db, piece.draftRevisionId)
  return {
    piece,
    original,
    draft: revision && {
      draft: revision.draft,
      woven: weave(revision.draft, turningOf(boundDraft(revision.draft))),
      path: `/drafts/${revision.draftId}/revisions/${revision.number}`,
    },
    hides: {
      original: piece.originalId !== undefined && !original,
      draft: piece.draftRevisionId !== undefined && !revision,
    },
    mayEdit: {
      original: original !== undefined && viewerMayEdit(db, 'original', original.id),
      replica: viewerMayEdit(db, 'piece', pieceId),
    },
    features,
    sides: {
      original: gatherEvidence(original ? listWorkingClaims(db, { originalId: original.id }) : [], byKey, undefined),
      replica: gatherEvidence(listWorkingClaims(db, { pieceId }), byKey, revision?.draft),
    },
    yarns: listPieceYarns(db, pieceId),
    sittings: listSittings(db, pieceId),
  }
}

/** How long a repeat of the piece is, by its working claims and its draft. */
export function findRepeatLength(db: Db, pieceId: number, draft: Draft | undefined): RepeatLength | undefined {
  const byKey = new Map(listFeatures(db).map((feature) => [feature.key, feature]))
  return repeatLengthOf(gatherEvidence(listWorkingClaims(db, { pieceId }), byKey, draft))
}
