import type { Db } from '../db/open.ts'
import { decide, type Subject } from './rule.ts'
import { findStanding } from './standing.ts'
import { currentViewer, isAlone } from './viewer.ts'

/** Whether the viewer may change this thing: what a page shows its buttons by. The guard asks again when one is used. */
export function viewerMayEdit(db: Db, subject: Subject, id: number): boolean {
  return decide({ kind: 'edit', subject }, currentViewer(), findStanding(db, subject, id)) === 'allow'
}

/** Whether it is the viewer's own: to be shared and deleted. */
export function viewerMayOwn(db: Db, subject: Subject, id: number): boolean {
  return decide({ kind: 'own', subject }, currentViewer(), findStanding(db, subject, id)) === 'allow'
}

/** Whether the viewer may record something new. */
export const viewerMayCreate = (): boolean => decide({ kind: 'create' }, currentViewer()) === 'allow'

export const viewerIsKeeper = (): boolean => decide({ kind: 'keeper' }, currentViewer()) === 'allow'

/** What stands in the place of a name that the viewer may not see. */
export function hiddenName(noun: 'original' | 'draft' | 'source' | 'piece' | 'yarn' | 'lot' | 'weighting'): string {
  const article = noun === 'original' ? 'an' : 'a'
  return `${article} ${noun} that is ${isAlone(currentViewer()) ? 'in the bin' : 'not shared with you'}`
}
