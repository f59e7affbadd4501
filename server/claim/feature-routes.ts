import { Router } from 'express'
import type { Context } from '../context.ts'
import { notFound, readId } from '../errors.ts'
import { readEntered } from '../form.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { readFeatureForm } from './feature-form.ts'
import { claimFeaturesPage, featureEditPage } from './feature-pages.ts'
import { insertFeature, listFeatures } from './feature-queries.ts'
import { newClaimPath, subjectPath } from './pages.ts'
import { findSubjectName, type Subject } from './queries.ts'

export function featureRoutes({ db, page, now }: Context): Router {
  const router = Router()
  /** The original or piece that the feature is wanted for, if any. */
  const subjectOf = (fields: unknown): Subject | undefined => {
    const { original, piece } = readEntered(fields, ['original', 'piece'])
    if (original === '' && piece === '') return undefined
    const subject = original ? { originalId: readId(original, 'original') } : { pieceId: readId(piece, 'piece') }
    if (findSubjectName(db, subject) === undefined) throw notFound(original ? 'original' : 'piece')
    return subject
  }

  router.get('/features', (req, res) => {
    res.send(page('claim/features', claimFeaturesPage(undefined, listFeatures(db), noticeOf(req))))
  })

  router.get('/features/new', (req, res) => {
    res.send(page('claim/feature-edit', featureEditPage(subjectOf(req.query), { label: '', kind: 'length' })))
  })

  router.post('/features', (req, res) => {
    const subject = subjectOf(req.body)
    const form = readFeatureForm(req.body)
    if (!form.ok)
      return void res
        .status(422)
        .send(page('claim/feature-edit', featureEditPage(subject, form.entered, form.problems)))
    const { outcome, key } = insertFeature(db, form.value, now().toISOString())
    if (outcome === 'taken') {
      const problems = { label: 'There is a feature of this name already.' }
      return void res.status(422).send(page('claim/feature-edit', featureEditPage(subject, form.value, problems)))
    }
    seeOther(res, subject ? newClaimPath(subjectPath(subject), key) : '/features', subject ? undefined : 'saved')
  })

  return router
}
