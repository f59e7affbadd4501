import type { ErrorRequestHandler, Request, RequestHandler } from 'express'
import { mergeFields } from '../../shared/edit/merge.ts'
import type { Context } from '../context.ts'
import type { Db } from '../db/open.ts'
import { findSave, listBase } from './base.ts'
import { EDITED, findTyped, FORM_PATHS, listPlanYarnLines, listYarnLines, type Edited } from './nouns.ts'
import { findPlan, findPlanById } from '../plan/queries.ts'
import { conflictPage } from './pages.ts'
import { StaleSave } from './stale.ts'
import { undoPath } from '../bin/undo.ts'
import { withShell } from '../shell.ts'

/**
 * No change is lost in silence. A form carries the version it was opened on; when another one has been saved meanwhile it
 * comes back (409) with both texts. The queries look once more when they write (`requireUnchanged`); what they refuse
 * comes back here by `staleSaves`.
 */
export function versionGuard({ db, page }: Pick<Context, 'db' | 'page'>): RequestHandler {
  return (req, res, next) => {
    const form = findForm(db, req)
    if (!form) return withShell({ undo: undoPath(req.query.undo) }, next)
    const { noun, id, path } = form
    const version = findVersion(db, noun, id)
    if (version === undefined) return next()
    if (req.method === 'GET') return withShell({ version }, next)
    const body = (req.body ?? {}) as Record<string, unknown>
    const opened = Number(body.version)
    if (body.version === undefined) return withShell({ version }, next)
    if (opened === version) return withShell({ version, expected: opened }, next)
    const theirs = findTyped(db, noun, id)
    if (!theirs) return next()
    const base = { ...theirs, ...listBase(db, noun, id, opened, Object.keys(theirs)) }
    const fields = mergeFields(base, pickTyped(body, Object.keys(theirs)), theirs)
    const yarns = noun === 'piece' ? listYarnLines(db, id) : noun === 'plan' ? listPlanYarnLines(db, id) : []
    const shown = conflictPage({ noun, path, version, body, fields, yarns, save: findSave(db, noun, id) })
    res.status(409).send(page('conflict/show', shown))
  }
}

/** A save that another one overtook on its way: shown as the guard shows those that were stale from the start. */
export function staleSaves(context: Pick<Context, 'db' | 'page'>): ErrorRequestHandler {
  const guard = versionGuard(context)
  return (error, req, res, next) => void (error instanceof StaleSave ? guard(req, res, next) : next(error))
}

/** Which row a form is about; a plan that is not kept yet has none. */
function findForm(db: Db, req: Request): { noun: Edited; id: number; path: string } | undefined {
  const which = req.method === 'GET' ? 'open' : req.method === 'POST' ? 'save' : undefined
  if (!which) return undefined
  for (const noun of EDITED) {
    const id = FORM_PATHS[noun][which].exec(req.path)?.[1]
    if (id === undefined) continue
    if (noun === 'fibre_density') return { noun, id: Number(id), path: `/yarns/fibres/${id}` }
    if (noun !== 'plan') return { noun, id: Number(id), path: `/${noun}s/${id}` }
    const plan = findPlan(db, Number(id))
    return plan && { noun, id: plan.id, path: `/pieces/${id}/plan` }
  }
  return undefined
}

function findVersion(db: Db, noun: Edited, id: number): number | undefined {
  // A plan goes into the bin with its piece, and the guard of rights has asked for that.
  if (noun === 'plan') return findPlanById(db, id)?.version
  // Never in the bin.
  if (noun === 'fibre_density') return db.first(db.sql.selectFrom(noun).select('version').where('id', '=', id))?.version
  const row = db.first(db.sql.selectFrom(noun).select('version').where('id', '=', id).where('deleted_at', 'is', null))
  return row?.version
}

function pickTyped(body: Readonly<Record<string, unknown>>, names: readonly string[]): Record<string, string> {
  const typed = names.map((name) => [name, body[name]] as const)
  return Object.fromEntries(
    typed.flatMap(([name, value]) => (typeof value === 'string' ? [[name, value.replace(/\r\n?/g, '\n').trim()]] : [])),
  )
}
