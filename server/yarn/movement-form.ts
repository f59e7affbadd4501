import { z } from 'zod'
import { gramsText, MOVEMENTS, planMovement, readGrams, type Entry } from '../../shared/yarn/ledger.ts'
import { choice, day, line, lines, optionalId, parseForm, type Problems } from '../form.ts'
import type { NewMovement } from './ledger-queries.ts'

/** What the page of a lot offers to enter; a correction has a form of its own. */
export const ENTERED_KINDS = [
  ...(['bought', 'dyed', 'reserved', 'released', 'used', 'returned', 'sample', 'lost', 'stocktake'] as const),
] as const
export type EnteredKind = (typeof ENTERED_KINDS)[number]

export type MovementEntered = Record<
  'kind' | 'grams' | 'day' | 'piece' | 'otherLot' | 'gramsAfter' | 'note' | 'accept',
  string
>

const mass = () =>
  z
    .string()
    .trim()
    .refine((text) => text === '' || readGrams(text) !== undefined, GRAMS_WANTED)
    .transform((text) => (text === '' ? undefined : readGrams(text)))
const GRAMS_WANTED = 'Please type grams, such as 97.4; to a milligram, and at most 999999.999.'

const schema = z.object({
  kind: choice(ENTERED_KINDS, 'Please choose what happened.'),
  grams: mass(),
  day: day(),
  piece: optionalId(),
  otherLot: optionalId(),
  gramsAfter: mass(),
  note: lines(1000),
  accept: line(10),
})

export interface MovementChoices {
  readonly today: string
  readonly lotId: number
  readonly entries: readonly Entry[]
  readonly pieceIds: readonly number[]
  readonly otherLotIds: readonly number[]
}

export type ReadMovement =
  | { readonly ok: true; readonly entries: readonly NewMovement[] }
  | {
      readonly ok: false
      readonly entered: MovementEntered
      readonly problems: Problems<MovementEntered>
      /** Asked where the ledger would say less than nothing, or promise more than is there. */
      readonly question: string
    }

/** A movement as typed: one entry, or two where yarn is dyed from one lot into another. */
export function readMovementForm(body: unknown, choices: MovementChoices): ReadMovement {
  const form = parseForm(body, schema)
  const refused = (entered: MovementEntered, problems: Problems<MovementEntered>, question = ''): ReadMovement => ({
    ...{ ok: false, entered, problems, question },
  })
  if (!form.ok) return refused(form.entered, form.problems)
  const { kind, grams, day: on = choices.today, piece, otherLot, gramsAfter, note, accept } = form.value
  const entered: MovementEntered = {
    ...{ kind, day: on, note, accept, piece: String(piece ?? ''), otherLot: String(otherLot ?? '') },
    ...{ grams: grams === undefined ? '' : gramsText(grams) },
    gramsAfter: gramsAfter === undefined ? '' : gramsText(gramsAfter),
  }
  const problems: Problems<MovementEntered> = {}
  if (grams === undefined) problems.grams = 'How many grams?'
  else if (grams === 0 && kind !== 'stocktake') problems.grams = 'This is more than 0 g.'
  if (on > choices.today) problems.day = 'This day has not come yet; enter it when it is true.'
  if (piece !== undefined && !choices.pieceIds.includes(piece))
    problems.piece = 'This piece is not in the notebook any more; please choose from the list.'
  if (kind === 'reserved' && piece === undefined) problems.piece ??= 'For which piece is it kept back?'
  if (kind === 'dyed' && otherLot === undefined) problems.otherLot = 'Which lot did it become?'
  if (otherLot !== undefined && !choices.otherLotIds.includes(otherLot))
    problems.otherLot = 'This lot is not on your shelf any more; please choose from the list.'
  if (Object.keys(problems).length > 0 || grams === undefined) return refused(entered, problems)
  const planned = planMovement(kind, grams, choices.entries, TAKES_PIECE.has(kind) ? piece : undefined)
  if (!planned.ok) return refused(entered, { grams: planned.message })
  if (planned.question !== '' && accept === '') return refused(entered, { accept: planned.question }, planned.question)
  const shared = { kind, day: on, note, acceptedBelow: planned.question !== '' }
  const out: NewMovement = {
    ...{ ...planned.change, ...shared, lotId: choices.lotId },
    pieceId: TAKES_PIECE.has(kind) ? piece : undefined,
    otherLotId: kind === 'dyed' ? otherLot : undefined,
  }
  if (kind !== 'dyed' || otherLot === undefined) return { ok: true, entries: [out] }
  const into: NewMovement = {
    ...{ ...shared, lotId: otherLot, otherLotId: choices.lotId, pieceId: undefined, acceptedBelow: false },
    ...{ massMg: gramsAfter ?? grams, reservedMg: 0, expectedMg: undefined, foundMg: undefined },
  }
  return { ok: true, entries: [out, into] }
}

/** The movements that can be for a piece. */
export const TAKES_PIECE: ReadonlySet<EnteredKind> = new Set(['reserved', 'released', 'used', 'returned'])

export const BLANK_MOVEMENT: MovementEntered = {
  ...{ kind: '', grams: '', day: '', piece: '', otherLot: '', gramsAfter: '', note: '', accept: '' },
}

export const correctionSchema = z.object({
  grams: mass().refine((mg) => mg !== undefined, 'How many grams should it have been? 0 takes it back.'),
  day: day(),
  note: lines(1000).refine((text) => text !== '', 'Please say what was wrong.'),
  accept: line(10),
})
export type CorrectionEntered = Record<keyof z.output<typeof correctionSchema>, string>

export const labelOf = (kind: EnteredKind): string => MOVEMENTS[kind].label
