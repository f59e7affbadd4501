import type { Rule, Subject } from './rule.ts'

export interface RouteRight {
  readonly method: 'GET' | 'POST'
  /** As the routers know it, below the public base path. */
  readonly path: string
  readonly rule: Rule
}

export const OPEN: Rule = { kind: 'open' }
export const SIGNED_IN: Rule = { kind: 'signedIn' }
export const CREATE: Rule = { kind: 'create' }
export const KEEPER: Rule = { kind: 'keeper' }
export const read = (subject: Subject): Rule => ({ kind: 'read', subject })
export const edit = (subject: Subject): Rule => ({ kind: 'edit', subject })
export const own = (subject: Subject): Rule => ({ kind: 'own', subject })

export const get = (path: string, rule: Rule): RouteRight => ({ method: 'GET', path, rule })
export const post = (path: string, rule: Rule): RouteRight => ({ method: 'POST', path, rule })
