import { Router, type Request, type Response } from 'express'
import type { Feature } from '../../shared/measure/feature.ts'
import { chosenStyle } from '../citation/chosen.ts'
import { today, type Context } from '../context.ts'
import { HttpError, notFound, readId } from '../errors.ts'
import { parseForm, readEntered } from '../form.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { BLANK_SOURCE } from '../source/form.ts'
import { findSource, insertSource, listSourceChoices } from '../source/queries.ts'
import { viewerMayEdit } from '../rights/allowed.ts'
import { citationOf } from './citation.ts'
import { workingSchema, withdrawSchema } from './action-form.ts'
import { claimEditPage, correctionEntered, newClaimEntered, type ClaimEditSubject } from './edit-page.ts'
import { claimFeaturesPage } from './feature-pages.ts'
import { findAnyFeature, listFeatures } from './feature-queries.ts'
import { readClaimForm, type ClaimForm } from './form.ts'
import { claimShowPage, strayFeature, subjectPath } from './pages.ts'
import { findClaim, findSubjectName, insertClaim, listClaims, setWorking, withdrawClaim } from './queries.ts'
import type { Claim, Subject } from './queries.ts'

export function claimRoutes(context: Context): Router {
  const { db, page, now } = context
  const router = Router()

  const aboutOf = (subject: Subject): ClaimEditSubject => {
    const name = findSubjectName(db, subject)
    if (name === undefined) throw notFound('originalId' in subject ? 'original' : 'piece')
    return { subject, name, sources: listSourceChoices(db) }
  }
  const featureAt = (key: unknown): Feature => {
    const feature = typeof key === 'string' ? findAnyFeature(db, key) : undefined
    if (!feature) throw notFound('feature')
    return feature
  }
  const claimAt = (text: string | undefined): Claim => {
    const claim = findClaim(db, readId(text, 'claim'))
    if (!claim) throw notFound('claim')
    return claim
  }
  const featureOf = (claim: Claim) => findAnyFeature(db, claim.feature) ?? strayFeature(claim.feature)
  const hasSource = (id: number) => findSource(db, id) !== undefined

  /** A source that was only named is added with the claim, or neither is. */
  const addClaim = (subject: Subject, { newSource, ...form }: ClaimForm & { newSource: string }, corrects?: number) =>
    db.write(() => {
      const at = now().toISOString()
      const sourceId =
        newSource === '' ? form.sourceId : insertSource(db, { ...BLANK_SOURCE, kind: 'other', title: newSource }, at)
      return insertClaim(db, subject, { ...form, sourceId }, at, corrects)
    })

  const newClaim = (subject: Subject, req: Request, res: Response) => {
    const about = aboutOf(subject)
    if (req.query.feature === undefined)
      return void res.send(page('claim/features', claimFeaturesPage(about, listFeatures(db))))
    const feature = featureAt(req.query.feature)
    const part = typeof req.query.part === 'string' ? req.query.part : ''
    const entered = newClaimEntered(subject, feature, part, today(context))
    res.send(page('claim/edit', claimEditPage(about, feature, entered)))
  }
  const postClaim = (subject: Subject, req: Request, res: Response) => {
    const about = aboutOf(subject)
    const feature = featureAt(readEntered(req.body, ['feature']).feature)
    const form = readClaimForm(req.body, feature, { hasSource, isCorrection: false })
    if (!form.ok)
      return void res.status(422).send(page('claim/edit', claimEditPage(about, feature, form.entered, form.problems)))
    seeOther(res, `${subjectPath(subject)}#claim-${addClaim(subject, form.value)}`, 'saved')
  }
  const originalOf = (req: Request) => ({ originalId: readId(String(req.params.id), 'original') })
  const pieceOf = (req: Request) => ({ pieceId: readId(String(req.params.id), 'piece') })
  router.get('/originals/:id/claims/new', (req, res) => newClaim(originalOf(req), req, res))
  router.post('/originals/:id/claims', (req, res) => postClaim(originalOf(req), req, res))
  router.get('/pieces/:id/claims/new', (req, res) => newClaim(pieceOf(req), req, res))
  router.post('/pieces/:id/claims', (req, res) => postClaim(pieceOf(req), req, res))

  const showClaim = (req: Request, claim: Claim, shown: Parameters<typeof claimShowPage>[5]) => {
    const { name, subject } = aboutOf(claim.subject)
    return page(
      'claim/show',
      claimShowPage(claim, featureOf(claim), name, listClaims(db, subject), viewerMayEdit(db, 'claim', claim.id), {
        ...shown,
        citation: citationOf(db, claim, chosenStyle(db, req)),
      }),
    )
  }
  router.get('/claims/:id', (req, res) => {
    res.send(showClaim(req, claimAt(req.params.id), { notice: noticeOf(req) }))
  })

  router.get('/claims/:id/correct', (req, res) => {
    const claim = standing(claimAt(req.params.id))
    const entered = correctionEntered(claim)
    res.send(page('claim/edit', claimEditPage(aboutOf(claim.subject), featureOf(claim), entered, {}, claim)))
  })

  router.post('/claims/:id/correct', (req, res) => {
    const claim = standing(claimAt(req.params.id))
    const [about, feature] = [aboutOf(claim.subject), featureOf(claim)]
    const form = readClaimForm(req.body, feature, { hasSource, isCorrection: true })
    if (!form.ok) {
      const data = claimEditPage(about, feature, form.entered, form.problems, claim)
      return void res.status(422).send(page('claim/edit', data))
    }
    seeOther(res, `${subjectPath(claim.subject)}#claim-${addClaim(claim.subject, form.value, claim.id)}`, 'saved')
  })

  router.post('/claims/:id/working', (req, res) => {
    const claim = standing(claimAt(req.params.id))
    const form = parseForm(req.body, workingSchema)
    if (!form.ok) return void res.status(422).send(showClaim(req, claim, form))
    setWorking(db, claim.id, form.value.workingReason)
    seeOther(res, `${subjectPath(claim.subject)}#claim-${claim.id}`, 'working')
  })

  router.post('/claims/:id/withdraw', (req, res) => {
    const claim = standing(claimAt(req.params.id))
    const form = parseForm(req.body, withdrawSchema)
    if (!form.ok) return void res.status(422).send(showClaim(req, claim, form))
    withdrawClaim(db, claim.id, form.value.withdrawReason, today(context))
    seeOther(res, `${subjectPath(claim.subject)}#claims`, 'withdrawn')
  })

  return router
}

function standing(claim: Claim): Claim {
  if (claim.withdrawnOn !== null)
    throw new HttpError(409, 'This claim is withdrawn. It stays as it is; make a new one beside it.')
  return claim
}
