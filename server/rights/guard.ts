import type { Request, RequestHandler } from 'express'
import type { Db } from '../db/open.ts'
import { HttpError, notFound, SignInFirst } from '../errors.ts'
import { seeOther } from '../notice.ts'
import { ROUTES, type RouteRight } from './routes-table.ts'
import { decide, type Decision, type Subject } from './rule.ts'
import { findStanding } from './standing.ts'
import { asViewer, type Viewer } from './viewer.ts'

/** What a page calls the things it does not find. */
const NOUNS: Readonly<Record<Subject, string>> = {
  ...{ source: 'source', original: 'original', draft: 'draft', piece: 'piece' },
  ...{ yarn: 'yarn', lot: 'lot', movement: 'movement' },
  ...{ claim: 'claim', sitting: 'sitting', photo: 'photograph', observed: 'observed face' },
  ...{ plan: 'plan', loom_step: 'step at the loom', fibre_density: 'density' },
  ...{ forecast: 'forecast', quote: 'quote', quote_terms: 'terms of quotes' },
  ...{ judgement: 'judgement', decision: 'decision', weighting: 'weighting' },
}

/**
 * Asks the table of rights before any handler runs, and runs everything behind it for the viewer.
 * @param viewerOf who is asking, from the session or the lone maker's right
 */
export function rightsGuard(db: Db, viewerOf: (req: Request) => Viewer): RequestHandler {
  return (req, res, next) => {
    if (!isDecodable(req.path)) return next(new HttpError(400, 'That request could not be read.'))
    const viewer = viewerOf(req)
    res.locals.viewer = viewer
    // A refusal is shown to this viewer too: with the navigation that is theirs.
    const refuse = (error: HttpError) => asViewer(viewer, () => next(error))
    const found = findRoute(req.method === 'HEAD' ? 'GET' : req.method, req.path)
    if (!found) return refuse(notFound('page'))
    const decision = decideRoute(db, found, viewer)
    if (decision === 'allow') return asViewer(viewer, next)
    if (decision === 'signIn') {
      // `url` is the address below the public base path, which `seeOther` puts before it again.
      if (req.method !== 'POST') return seeOther(res, `/sign-in?next=${encodeURIComponent(req.url)}`)
      return refuse(new SignInFirst())
    }
    const { rule } = found.right
    if (decision === 'absent') return refuse(notFound('subject' in rule ? NOUNS[rule.subject] : 'page'))
    refuse(new HttpError(403, 'This is not yours to change.'))
  }
}

function isDecodable(path: string): boolean {
  try {
    decodeURIComponent(path)
    return true
  } catch {
    return false
  }
}

function decideRoute(db: Db, { right, id }: FoundRoute, viewer: Viewer): Decision {
  const { rule } = right
  if (!('subject' in rule)) return decide(rule, viewer)
  return decide(rule, viewer, id === undefined ? undefined : findStanding(db, rule.subject, id))
}

interface FoundRoute {
  readonly right: RouteRight
  /** Undefined where the address has none, or what stands there is no id. */
  readonly id: number | undefined
}

const compiled = ROUTES.map((right) => ({
  right,
  pattern: new RegExp(
    `^${right.path.replace(/\./g, '\\.').replace(/:id/, '(?<id>[^/]+)').replace(/:\w+/g, '[^/]+')}/?$`,
  ),
  // A fixed word before a placeholder: /pieces/new is not the piece "new".
  placeholders: (right.path.match(/:/g) ?? []).length,
})).sort((left, right) => left.placeholders - right.placeholders)

export function findRoute(method: string, path: string): FoundRoute | undefined {
  for (const { right, pattern } of compiled) {
    const match = right.method === method ? pattern.exec(path) : null
    if (!match) continue
    const text = match.groups?.id
    return { right, id: text !== undefined && /^[1-9]\d{0,14}$/.test(text) ? Number(text) : undefined }
  }
  return undefined
}
