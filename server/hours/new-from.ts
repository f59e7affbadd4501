import type { Db } from '../db/open.ts'
import { HttpError } from '../errors.ts'
import type { Piece } from '../piece/queries.ts'
import type { SittingForm } from '../sitting/form.ts'
import type { NewFrom } from '../sitting/pages.ts'
import { findProposal, toMadeFrom, toSittingForm } from './proposal.ts'
import { findTimer } from './timer-queries.ts'
import { timedSitting } from './timer-view.ts'

/** What a form of a new sitting opens with and is made from, by the key of a proposal or the number of the stopped clock. */
export type NewSitting = NewFrom & { readonly form: SittingForm }

/**
 * @returns undefined where neither is asked for
 * @throws HttpError 409 where it was kept, left out or thrown away meanwhile
 */
export function findNewFrom(
  db: Db,
  piece: Piece,
  { steps, timer }: { readonly steps: string; readonly timer: string },
  now: Date,
): NewSitting | undefined {
  if (steps !== '') {
    const proposal = findProposal(db, piece, steps, now)
    if (!proposal) throw new HttpError(409, GONE)
    return { name: 'steps', value: steps, form: toSittingForm(proposal), made: toMadeFrom(proposal) }
  }
  if (timer === '') return undefined
  const clock = findTimer(db)
  const form = clock && String(clock.id) === timer && clock.pieceId === piece.id && timedSitting(clock, piece.maker)
  if (!form) throw new HttpError(409, 'This clock still runs, or what it timed was kept or thrown away meanwhile.')
  const { stage, startedAt, endedAt, breakMinutes } = form
  const said = { stage, startedAt, endedAt, breakMinutes, picks: undefined }
  return { name: 'timer', value: timer, form, made: { origin: 'timer', said } }
}

/** What is said of a proposal that is no more. */
export const GONE =
  'These steps were approved or left out meanwhile, or more of them have come. Please look at the hours of the piece again.'
