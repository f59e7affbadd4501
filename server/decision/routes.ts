import { Router } from 'express'
import { today, type Context } from '../context.ts'
import { notFound, readId } from '../errors.ts'
import { seeOther } from '../notice.ts'
import { findOriginal } from '../original/queries.ts'
import { findPiece } from '../piece/queries.ts'
import { currentViewer } from '../rights/viewer.ts'
import { readDecisionForm } from './form.ts'
import { blankDecision, decisionEditPage } from './pages.ts'
import { deleteDecision, findDecision, insertDecision, updateDecision, type DecisionSubject } from './queries.ts'

/** What was decided about originals and pieces, written as it happens. */
export function decisionRoutes(context: Pick<Context, 'db' | 'page' | 'now' | 'zone'>): Router {
  const { db, page, now } = context
  const router = Router()
  const named = (subject: DecisionSubject) => {
    const found = subject.noun === 'original' ? findOriginal(db, subject.id) : findPiece(db, subject.id)
    if (!found) throw notFound(subject.noun)
    return { ...subject, name: found.name }
  }
  const decisionAt = (text: string | undefined) => {
    const decision = findDecision(db, readId(text, 'decision'))
    if (!decision) throw notFound('decision')
    return decision
  }
  const placeOf = ({ noun, id }: DecisionSubject) => (noun === 'piece' ? `/pieces/${id}/fidelity` : `/originals/${id}`)

  for (const noun of ['original', 'piece'] as const) {
    router.get(`/${noun}s/:id/decisions/new`, (req, res) => {
      const viewer = currentViewer()
      const entered = blankDecision(today(context), viewer.kind === 'member' ? viewer.name : '')
      const subject = named({ noun, id: readId(req.params.id, noun) })
      res.send(page('decision/edit', decisionEditPage(subject, undefined, entered)))
    })

    router.post(`/${noun}s/:id/decisions`, (req, res) => {
      const subject = named({ noun, id: readId(req.params.id, noun) })
      const form = readDecisionForm(req.body)
      if (!form.ok) {
        const shown = decisionEditPage(subject, undefined, form.entered, form.problems)
        return void res.status(422).send(page('decision/edit', shown))
      }
      const id = insertDecision(db, subject, form.value, now().toISOString())
      seeOther(res, `${placeOf(subject)}#decision-${id}`, 'saved')
    })
  }

  router.get('/decisions/:id/edit', (req, res) => {
    const decision = decisionAt(req.params.id)
    res.send(page('decision/edit', decisionEditPage(named(decision.subject), decision, decision)))
  })

  router.post('/decisions/:id', (req, res) => {
    const decision = decisionAt(req.params.id)
    const form = readDecisionForm(req.body)
    if (!form.ok) {
      const shown = decisionEditPage(named(decision.subject), decision, form.entered, form.problems)
      return void res.status(422).send(page('decision/edit', shown))
    }
    updateDecision(db, decision.id, form.value, now().toISOString())
    seeOther(res, `${placeOf(decision.subject)}#decision-${decision.id}`, 'saved')
  })

  router.post('/decisions/:id/delete', (req, res) => {
    const decision = decisionAt(req.params.id)
    deleteDecision(db, decision.id, now().toISOString())
    seeOther(res, `${placeOf(decision.subject)}?undo=decision-${decision.id}#decisions`, 'deleted')
  })

  return router
}
