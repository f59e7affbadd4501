import type { Owned } from './readable.ts'
import { isAlone, type Viewer } from './viewer.ts'

/** What a rule speaks of: a thing with an owner, or something that belongs to one. */
export type Subject =
  | Owned
  | 'claim'
  | 'sitting'
  | 'photo'
  | 'observed'
  | 'lot'
  | 'movement'
  | 'plan'
  | 'loom_step'
  | 'fibre_density'
  | 'judgement'
  | 'decision'
  | Alone

/** What nobody but its owner ever sees. */
export type Alone = 'forecast' | 'quote' | 'quote_terms'
/**
 * Who may use a route.
 * `open`: everybody, signed in or not (sign-in itself, the style sheet, pure computation).
 * `signedIn`: any member, guests too. `create`: keeper and member. `keeper`: keeper alone.
 * `read`, `edit`, `own`: of the thing that `:id` names. Who may not read it is told that it is not there.
 */
export type Rule =
  | { readonly kind: 'open' | 'signedIn' | 'create' | 'keeper' }
  | { readonly kind: 'read' | 'edit' | 'own'; readonly subject: Subject }

/** Whose the thing is, and who may see it. A thing that belongs to another has that one's standing. */
export interface Standing {
  readonly ownerId: number | null
  readonly visibility: 'private' | 'members' | 'published'
  readonly isDeleted: boolean
  readonly coMakerIds: readonly number[]
}

/** `signIn`: ask who it is first; `absent`: 404, whatever there is; `refused`: 403, seen but not theirs to change. */
export type Decision = 'allow' | 'signIn' | 'absent' | 'refused'

/**
 * The one decision about rights.
 * @param standing of the thing that the rule speaks of; undefined when there is none
 */
export function decide(rule: Rule, viewer: Viewer, standing?: Standing): Decision {
  if (rule.kind === 'open') return 'allow'
  if ('subject' in rule) return decideOn(rule.kind, viewer, standing)
  if (viewer.kind === 'anonymous') return 'signIn'
  if (isAlone(viewer) || rule.kind === 'signedIn') return 'allow'
  const role = viewer.kind === 'member' ? viewer.role : 'guest'
  if (rule.kind === 'keeper') return role === 'keeper' ? 'allow' : 'refused'
  return role === 'guest' ? 'refused' : 'allow'
}

function decideOn(kind: 'read' | 'edit' | 'own', viewer: Viewer, standing: Standing | undefined): Decision {
  // Somebody who has not signed in learns nothing of what is not published, not even whether it is there.
  const hidden = viewer.kind === 'anonymous' ? 'signIn' : 'absent'
  if (!standing || standing.isDeleted || !mayRead(viewer, standing)) return hidden
  if (kind === 'read') return 'allow'
  if (viewer.kind === 'anonymous') return 'signIn'
  if (kind === 'edit' ? mayEdit(viewer, standing) : mayOwn(viewer, standing)) return 'allow'
  return 'refused'
}

function mayRead(viewer: Viewer, standing: Standing): boolean {
  if (standing.visibility === 'published' || mayEdit(viewer, standing)) return true
  return viewer.kind === 'member' && standing.visibility === 'members'
}

/** The owner, and whoever makes the piece with them; a guest changes nothing. */
export function mayEdit(viewer: Viewer, standing: Standing): boolean {
  if (mayOwn(viewer, standing)) return true
  return viewer.kind === 'member' && viewer.role !== 'guest' && standing.coMakerIds.includes(viewer.id)
}

/** The owner alone: sharing, deleting, co-makers, what a client pays. */
export function mayOwn(viewer: Viewer, standing: Standing): boolean {
  if (isAlone(viewer)) return true
  return viewer.kind === 'member' && viewer.role !== 'guest' && standing.ownerId === viewer.id
}
