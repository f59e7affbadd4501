import { sayUnsaid } from '../../shared/draft/convention/say.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { sayCount, sayListed, sayPicks } from '../../shared/draft/number-words.ts'
import { tellBriefly } from '../../shared/draft/tell/brief-tell.ts'
import { type FloatsTold, type SideFloats, tellFloats } from '../../shared/draft/tell/float-place.ts'
import { listHiddenThreads } from '../../shared/draft/hidden-threads.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { weave } from '../../shared/draft/weave.ts'
import type { Woven } from '../../shared/draft/woven.ts'
import type { NotebookDraft } from '../draft/queries.ts'
import { pictureAddress } from '../draft/pages.ts'
import { sayBand } from '../draft/picture.ts'
import { drawnPicks, readPictureSize } from '../draft/size.ts'
import type { Revision } from '../draft/revision-queries.ts'
import { problemList } from '../field.ts'
import type { PageHead } from '../pages.ts'
import type { Asked } from './form.ts'
import { type MemoryView, memoryView } from './memory-view.ts'
import { type MisprintView, misprintView } from './misprint-view.ts'
import { type PickView, pickView } from './pick-view.ts'
import { type SymmetryView, symmetryView } from './symmetry-view.ts'
import { type TwistView, twistView } from './twist-view.ts'

declare module '../pages.ts' {
  interface Pages {
    'tell/show': TellPage
  }
}

interface FloatsView {
  readonly lead: string
  readonly sides: readonly string[]
  readonly rows: readonly { tablets: string; picks: string; side: string; length: number }[]
  readonly more: string
  readonly hidden: readonly string[]
}

interface Told {
  readonly brief: readonly { label: string; text: string; asksForLook: boolean }[]
  readonly memory: MemoryView
  readonly twist: TwistView
  readonly floats: FloatsView
  readonly picks: PickView
  readonly symmetry: SymmetryView
  readonly misprints: MisprintView
}

interface TellPage extends PageHead {
  readonly id: number
  readonly number: number
  readonly heading: string
  readonly kicker: string
  readonly lead: string
  readonly face: { readonly src: string; readonly alt: string }
  /** Why nothing is told; empty when all of it is. */
  readonly tooLong: string
  readonly told: Told | ''
  readonly fields: Asked['fields']
}

/** Most turns (tablets x picks) that are told of while somebody waits. Our own, by measuring. */
const MOST_TOLD_TURNS = 200_000

export function tellPage({ id, title, written }: NotebookDraft, revision: Revision, asked: Asked): TellPage {
  const { number, tablets, picks } = revision
  const turns = tablets * picks
  const isTooLong = turns > MOST_TOLD_TURNS
  return {
    title: `What ${title} tells`,
    section: 'drafts',
    scripts: ['read-aloud'],
    problems: asked.hasProblem ? problemList(asked.fields) : [],
    ...{ id, number, heading: `What “${title}” tells` },
    kicker: `Draft, revision ${number}`,
    lead: `${sayCount(tablets, 'tablet')}, ${sayCount(picks, 'pick')} in the repeat. All of it follows from threading and turning alone.${sayUnsaid(written)}`,
    face: faceOf(revision),
    tooLong: isTooLong
      ? `${turns} turns (${tablets} tablets by ${picks} picks) are more than the ${MOST_TOLD_TURNS} that are told of on a page.`
      : '',
    told: isTooLong ? '' : tell(revision.draft, asked),
    fields: asked.fields,
  }
}

/** The face at its usual size, as the draft's own page draws it. */
function faceOf(revision: Revision): TellPage['face'] {
  const { draft, tablets, picks } = revision
  const size = readPictureSize({}, { tablets, picks })
  if (!size.ok) throw new Error('The usual size of a picture was refused')
  return {
    src: pictureAddress(revision)('face', { lie: 'across' }),
    alt: sayBand('face', draft, drawnPicks(size.value, tablets).picks),
  }
}

function tell(draft: Draft, { limit, stated }: Asked): Told {
  const turning = turningOf(draft)
  const woven = weave(draft, turning)
  return {
    brief: tellBriefly(draft, turning, woven),
    memory: memoryView(draft, turning),
    twist: twistView(draft, turning),
    floats: floatsView(draft, woven, limit),
    picks: pickView(turning),
    symmetry: symmetryView(draft, turning, woven),
    misprints: misprintView(draft, turning, stated),
  }
}

function floatsView(draft: Draft, woven: Woven, limit: number): FloatsView {
  const told = tellFloats(draft, woven, limit)
  return {
    lead: sayOver(told),
    sides: [sayLengths('face', told.face), sayLengths('reverse', told.reverse)],
    rows: told.places.map(({ tablets, from, to, side, length }) => ({
      tablets: sayListed('tablet', tablets),
      picks: to > woven.picks ? `${sayPicks(from, to)} (into the next repeat)` : sayPicks(from, to),
      side: side ?? '',
      length,
    })),
    more: told.morePlaces > 0 ? `${sayCount(told.morePlaces, 'more place')} not set out here.` : '',
    hidden: (['face', 'reverse'] as const).map((side) => sayHidden(draft, woven, side)),
  }
}

function sayOver({ limit, face, reverse }: FloatsTold): string {
  const over = face.over + reverse.over
  if (over === 0)
    return `Woven again and again, no thread that changes side floats over more than ${sayCount(limit, 'pick')}.`
  const are = over === 1 ? '1 float is' : `${over} floats are`
  return `Woven again and again, ${are} longer than ${sayCount(limit, 'pick')} in a repeat: ${face.over} on the face, ${reverse.over} on the reverse.`
}

function sayLengths(side: string, { count, lengths, endless }: SideFloats): string {
  const never = endless === 0 ? '' : ` ${sayCount(endless, 'thread')} never leave${endless === 1 ? 's' : ''} this side.`
  if (count === 0) return `On the ${side} no float begins.${never}`
  const each = lengths.slice(0, 12).map(({ length, count }) => `${count} of ${sayCount(length, 'pick')}`)
  const more = lengths.length > 12 ? `, and ${lengths.length - 12} greater lengths` : ''
  return `On the ${side}, n = ${count} floats in a repeat: ${each.join(', ')}${more}.${never}`
}

function sayHidden(draft: Draft, woven: Woven, side: 'face' | 'reverse'): string {
  const hidden = listHiddenThreads(draft, woven, side)
  if (hidden.length === 0) return `Every thread shows on the ${side} at some pick.`
  const holesOf = new Map<number, string>()
  for (const { tablet, hole } of hidden) holesOf.set(tablet, (holesOf.get(tablet) ?? '') + hole)
  const tabletsOf = new Map<string, number[]>()
  for (const [tablet, holes] of holesOf) tabletsOf.set(holes, [...(tabletsOf.get(holes) ?? []), tablet])
  const named = [...tabletsOf].slice(0, 8).map(([holes, tablets]) => {
    return `${[...holes].join(', ')} of ${sayListed('tablet', tablets)}`
  })
  const never = `never show${hidden.length === 1 ? 's' : ''} on the ${side}`
  return `${sayCount(hidden.length, 'thread')} ${never}: ${named.join('; ')}${tabletsOf.size > 8 ? '; and others' : ''}.`
}
