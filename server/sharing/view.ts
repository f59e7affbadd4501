import type { Db } from '../db/open.ts'
import type { Visibility } from '../db/tables.ts'
import { hiddenName, viewerMayOwn } from '../rights/allowed.ts'
import type { Owned } from '../rights/readable.ts'
import { currentViewer } from '../rights/viewer.ts'
import { VISIBILITIES } from './form.ts'
import { findShared, listCoMakers, listPossibleCoMakers, type Person, type Shared } from './queries.ts'
import { listHiddenGrounds } from './rest.ts'

/** Who may see a thing and who makes it, for `{{> sharing}}`; empty where there is nobody to share with. */
export type SharingView = OwnerView | ReaderView | ''

interface OwnerView {
  readonly isOwner: true
  readonly action: string
  readonly noun: Owned
  readonly visibility: Visibility
  readonly choices: readonly { value: Visibility; label: string; meaning: string; checked: boolean }[]
  /** What it rests on and fewer may see. */
  readonly grounds: readonly { name: string; path: string; state: string }[]
  /** Whether some of that is one's own, so that it can be shared too. */
  readonly canShareGrounds: boolean
  readonly isPiece: boolean
  readonly coMakers: readonly Person[]
  readonly possible: readonly Person[]
}

interface ReaderView {
  readonly isOwner: false
  readonly sentence: string
}

const LABELS: Readonly<Record<Visibility, string>> = {
  private: 'Private',
  members: 'Members',
  published: 'Published',
}

function meaningOf(visibility: Visibility, noun: Owned): string {
  const makers = noun === 'piece' ? 'you and its co-makers' : 'you'
  if (visibility === 'private') return `Only ${makers} see it.`
  const whole = noun === 'piece' ? ' For whom it is stays with you and its co-makers.' : ''
  if (visibility === 'members') return `Everybody who signs in here reads it, guests too.${whole}`
  return `Anybody who has its address reads it, without signing in, and may copy it.${whole}`
}

export function sharingView(db: Db, noun: Owned, id: number): SharingView {
  const viewer = currentViewer()
  const shared = viewer.kind === 'member' ? findShared(db, noun, id) : undefined
  if (!shared) return ''
  if (!viewerMayOwn(db, noun, id)) return { isOwner: false, sentence: readerSentence(db, noun, id, shared) }
  const { visibility } = shared
  const grounds = listHiddenGrounds(db, noun, id, visibility)
  return {
    isOwner: true,
    action: `/${noun}s/${id}`,
    ...{ noun, visibility },
    choices: VISIBILITIES.map((value) => ({
      ...{ value, label: LABELS[value], meaning: meaningOf(value, noun) },
      checked: value === visibility,
    })),
    grounds: grounds.map((ground) => ({
      name: ground.isReadable ? ground.name : hiddenName(ground.noun),
      path: ground.isReadable ? `/${ground.noun}s/${ground.id}` : '',
      state: ground.isReadable ? `${ground.noun}, ${LABELS[ground.visibility].toLowerCase()}` : '',
    })),
    canShareGrounds: grounds.some(({ isMine }) => isMine),
    isPiece: noun === 'piece',
    coMakers: noun === 'piece' ? listCoMakers(db, id) : [],
    possible: noun === 'piece' ? listPossibleCoMakers(db, id) : [],
  }
}

const TOLD: Readonly<Record<Visibility, string>> = {
  private: 'Nobody else sees it.',
  members: 'It is shared with everybody who signs in here.',
  published: 'It is published: anybody who has its address reads it.',
}

function readerSentence(db: Db, noun: Owned, id: number, { ownerName, visibility }: Shared): string {
  const others = noun === 'piece' ? listCoMakers(db, id).map(({ name }) => name) : []
  const by = ownerName === '' ? '' : `Recorded by ${[ownerName, ...others].join(', ')}. `
  return `${by}${TOLD[visibility]}`
}
