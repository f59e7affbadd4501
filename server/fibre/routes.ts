import { Router } from 'express'
import { today, type Context } from '../context.ts'
import { notFound, readId } from '../errors.ts'
import { readEntered } from '../form.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { viewerMayCreate } from '../rights/allowed.ts'
import { readDensityForm, typedDensity, type DensityEntered } from './form.ts'
import { BLANK_DENSITY, fibreEditPage, fibreListPage } from './pages.ts'
import { deleteDensity, findOwnDensity, insertDensity, listOwnDensities, updateDensity } from './queries.ts'

const FIELDS = Object.keys(BLANK_DENSITY) as (keyof DensityEntered)[]
const TAKEN = { fibre: 'You keep a value for this fibre already; change that one.' }

/** Densities of fibres: the built-in ones, and the maker's own in their place. */
export function fibreRoutes(context: Context): Router {
  const { db, page, now } = context
  const router = Router()
  const keptAt = (text: string | undefined) => {
    const kept = findOwnDensity(db, readId(text, 'density'))
    if (!kept) throw notFound('density')
    return kept
  }

  router.get('/yarns/fibres', (req, res) => {
    res.send(page('fibre/list', fibreListPage(listOwnDensities(db), viewerMayCreate(), noticeOf(req))))
  })

  router.get('/yarns/fibres/new', (req, res) => {
    const asked = readEntered(req.query, FIELDS)
    res.send(page('fibre/edit', fibreEditPage(undefined, asked, { notice: noticeOf(req) })))
  })

  router.post('/yarns/fibres', (req, res) => {
    const form = readDensityForm(req.body, today(context))
    const isTaken = form.ok && insertDensity(db, form.value, now().toISOString()) === 'taken'
    if (form.ok && !isTaken) return seeOther(res, '/yarns/fibres', 'saved')
    const [entered, problems] = form.ok ? [typedDensity(form.value), TAKEN] : [form.entered, form.problems]
    res.status(422).send(page('fibre/edit', fibreEditPage(undefined, entered, { problems })))
  })

  router.get('/yarns/fibres/:id/edit', (req, res) => {
    const kept = keptAt(req.params.id)
    res.send(page('fibre/edit', fibreEditPage(kept, typedDensity(kept))))
  })

  router.post('/yarns/fibres/:id', (req, res) => {
    const kept = keptAt(req.params.id)
    const form = readDensityForm(req.body, today(context))
    const outcome = form.ok ? updateDensity(db, kept.id, form.value, now().toISOString()) : 'refused'
    if (outcome === 'absent') throw notFound('density')
    if (outcome === 'saved') return seeOther(res, '/yarns/fibres', 'saved')
    const [entered, problems] = form.ok ? [typedDensity(form.value), TAKEN] : [form.entered, form.problems]
    res.status(422).send(page('fibre/edit', fibreEditPage(kept, entered, { problems })))
  })

  // What is removed is not in the bin: the form holds it out again, and Save puts it back.
  router.post('/yarns/fibres/:id/delete', (req, res) => {
    const kept = keptAt(req.params.id)
    if (!deleteDensity(db, kept.id)) throw notFound('density')
    seeOther(res, `/yarns/fibres/new?${new URLSearchParams(typedDensity(kept)).toString()}`, 'density-removed')
  })

  return router
}
