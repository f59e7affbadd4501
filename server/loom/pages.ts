import { sayNumbers } from '../../shared/draft/number-words.ts'
import { bandWindow, picksInBox } from '../../shared/loom/band-window.ts'
import { STEP_LABELS } from '../../shared/loom/step.ts'
import { MOST_PACKS } from '../../shared/loom/told-pick.ts'
import { loomOf, type LoomView, viewAt } from '../../shared/loom/view.ts'
import { CAUTIONS } from '../caution.ts'
import { formFields, type FieldSpec, type FieldView, problemList } from '../field.ts'
import { type Html, type PageHead, toHtml } from '../pages.ts'
import type { Woven } from './facts.ts'
import type { LoomStep } from './queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'loom/show': LoomPage
    'loom/none': LoomNonePage
  }
}

interface LoomNonePage extends PageHead {
  readonly pieceId: number
  readonly why: string
}

type LoomFields = Record<'repeat' | 'pick' | 'picks' | 'note' | 'steps', FieldView>

export interface LoomPage extends PageHead {
  readonly pieceId: number
  readonly path: string
  /** The page as one file, to be taken along: nothing of it leads to the server. */
  readonly isFile: boolean
  readonly facts: string
  readonly memberId: number
  readonly zone: string
  /** How many counts a pick has: many are set smaller. */
  readonly crowd: 'few' | 'some' | 'many' | 'crowd'
  readonly view: LoomView
  readonly band: Html
  readonly says: string
  readonly notes: readonly string[]
  readonly fields: LoomFields
  readonly recoverPath: string
  /** Without the number of the pick. */
  readonly recoverBase: string
  readonly packs: readonly string[]
  readonly reading: readonly string[]
  readonly caution: string
  readonly steps: readonly string[]
}

const SPECS: Record<keyof LoomFields, FieldSpec> = {
  repeat: { label: 'The next pick is in repeat', inputmode: 'numeric' },
  pick: { label: 'and is pick', inputmode: 'numeric', hint: 'Of the repeat, from 1.' },
  picks: { label: 'Picks taken out', inputmode: 'numeric', hint: 'The last ones that were woven.' },
  note: { label: 'What slipped', hint: 'In a few words; it may stay empty.' },
  steps: { label: 'Or its text', rows: 3, mono: true, hint: 'Each step comes in once, however often it is brought.' },
}

/** Where a form came back: what was typed, and a sentence for each field. */
export interface CameBack {
  readonly entered: Readonly<Record<string, string>>
  readonly problems: Readonly<Partial<Record<string, string>>>
}

export interface ShownLoom {
  readonly woven: Woven
  readonly memberId: number
  readonly zone: string
  readonly steps: readonly LoomStep[]
  readonly newestRevision: number
  readonly notice: string
  readonly cameBack?: CameBack | undefined
  readonly isFile?: boolean
}

export function loomPage(shown: ShownLoom): LoomPage {
  const { woven, memberId, zone, steps, notice, cameBack, isFile = false } = shown
  const { piece, revision, facts, reading } = woven
  const loom = loomOf(facts)
  const place = facts.latest?.place ?? 0
  const view = viewAt(loom, place)
  const picks = picksInBox(facts.draft.tablets.length, 320, 180)
  const fields = formFields(SPECS, cameBack?.entered ?? {}, cameBack?.problems)
  const recoverBase = `/drafts/${revision.draftId}/revisions/${revision.number}/recover?pick=`
  const path = `/pieces/${piece.id}/loom`
  const notes = notesOf(shown)
  return {
    title: `${piece.name}, at the loom`,
    section: 'pieces',
    frame: 'bare',
    manifest: isFile ? '' : `${path}/manifest.webmanifest`,
    scripts: ['loom'],
    problems: problemList(fields),
    ...{ path, isFile, memberId, zone, view, fields, reading, recoverBase, pieceId: piece.id },
    facts: JSON.stringify(facts),
    crowd: crowdOf(view),
    band: toHtml(bandWindow(loom.weaving, place, picks, 'loom')),
    says: cameBack?.problems.kind ?? (notice || (notes[0] ?? '')),
    notes,
    // The pick that was woven last is the one that can have gone wrong.
    recoverPath: `${recoverBase}${place === 0 ? 1 : ((place - 1) % revision.picks) + 1}`,
    packs: loom.packs.length > MOST_PACKS ? [] : loom.packs.map((pack, at) => `Pack ${at + 1}: ${sayNumbers(pack)}.`),
    caution: `${CAUTIONS.backstrap.text} ${CAUTIONS.backstrap.ask}`,
    steps: steps.map((step) => sayStep(step, zone)),
  }
}

const crowdOf = ({ runs }: LoomView): LoomPage['crowd'] =>
  runs.length <= 8 ? 'few' : runs.length <= 15 ? 'some' : runs.length <= 32 ? 'many' : 'crowd'

/** What has changed since the last step was kept. */
function notesOf({ woven: { facts, revision }, steps, newestRevision }: ShownLoom): string[] {
  const [last] = steps
  const place = facts.latest?.place ?? 0
  const changed = last?.draftRevisionId !== undefined && last.draftRevisionId !== revision.id
  return [
    changed
      ? `The draft is another one than at the last step: revision ${revision.number} of ${facts.revision.title} now. The place stays: ${place} picks of the piece are woven.`
      : '',
    newestRevision > revision.number
      ? `There is a newer revision of the draft, ${newestRevision}. This page goes by revision ${revision.number}, as the piece says; change it there to weave by the newer one.`
      : '',
    facts.way === 'drafted'
      ? ''
      : `The borders are turned by the plan: ${facts.way === 'flip' ? 'turned over' : 'the other way'} after pick ${sayNumbers(facts.reversals, 12)}.`,
  ].filter(Boolean)
}

function sayStep({ kind, place, at, zone, note }: LoomStep, zoneHere: string): string {
  const time = (timeZone: string) =>
    new Intl.DateTimeFormat('en-GB', { timeZone, day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' })
  const when = time(zone || zoneHere).format(new Date(at))
  return `${when}: ${STEP_LABELS[kind]}, ${place} woven${note === '' ? '' : ` (${note})`}`
}

export const loomNonePage = (
  piece: { readonly id: number; readonly name: string },
  isHidden: boolean,
): LoomNonePage => ({
  title: piece.name,
  section: 'pieces',
  pieceId: piece.id,
  why: isHidden
    ? 'Its draft is not for you to see, so there is nothing to weave it by here.'
    : 'It has no draft yet. The loom page tells picks, and these stand in a draft.',
})
