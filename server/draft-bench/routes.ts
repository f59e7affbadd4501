import express, { type Response, Router } from 'express'
import { documentText } from '../../shared/draft/document-text.ts'
import type { Context } from '../context.ts'
import { notFound, readId } from '../errors.ts'
import { findDraft, insertDraft, OWN_FRAME } from '../draft/queries.ts'
import { findNewestRevision } from '../draft/revision-queries.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { findOriginal, listOriginalChoices } from '../original/queries.ts'
import { plainDraft, readBeginForm, readCopy, readRevision } from './form.ts'
import { BLANK_BEGIN, draftBenchBeginPage, draftBenchPage } from './pages.ts'
import { deleteWorkingCopy, findWorkingCopy, saveBenchAsRevision, saveWorkingCopy } from './queries.ts'
import { saySavedAt } from './time.ts'

/** 400 tablets by 2,000 picks of which no two are alike are 2.4 MB. */
const json = express.json({ limit: '8mb' })

/** The draft bench: an editor in the browser, which keeps its working copy here. */
export function draftBenchRoutes({ db, page, now, zone }: Pick<Context, 'db' | 'page' | 'now' | 'zone'>): Router {
  const router = Router()
  const draftAt = (text: string | undefined) => {
    const draft = findDraft(db, readId(text, 'draft'))
    const newest = draft && findNewestRevision(db, draft.id)
    if (!newest) throw notFound('draft')
    return { draft, newest }
  }
  const refuse = (res: Response, status: 409 | 422, why: string, rest: object = {}) =>
    void res.status(status).json({ why, ...rest })

  router.get('/drafts/new/bench', (req, res) => {
    const { original } = req.query
    const entered = { ...BLANK_BEGIN, original: typeof original === 'string' ? original : '' }
    res.send(page('draft-bench/begin', draftBenchBeginPage(entered, listOriginalChoices(db))))
  })

  router.post('/drafts/new/bench', (req, res) => {
    const form = readBeginForm(req.body)
    const gone = form.ok && form.value.original !== undefined && !findOriginal(db, form.value.original)
    if (!form.ok || gone) {
      const entered = form.ok ? { ...BLANK_BEGIN, ...toWords(form.value), original: '' } : form.entered
      const problems = form.ok ? { original: 'This original is not in the notebook any more.' } : form.problems
      const shown = draftBenchBeginPage(entered, listOriginalChoices(db), problems)
      return void res.status(422).send(page('draft-bench/begin', shown))
    }
    const { title, original: originalId, tablets, picks } = form.value
    const draft = plainDraft(title, Number(tablets), Number(picks))
    const { id } = insertDraft(db, { draft, notes: '', originalId, convention: OWN_FRAME }, now().toISOString())
    seeOther(res, `/drafts/${id}/bench`)
  })

  router.get('/drafts/:id/bench', (req, res) => {
    const { draft, newest } = draftAt(req.params.id)
    const copy = findWorkingCopy(db, draft.id)
    res.send(
      page(
        'draft-bench/show',
        draftBenchPage(draft, newest, copy, { sayTime: (at) => saySavedAt(at, zone), notice: noticeOf(req) }),
      ),
    )
  })

  router.get('/drafts/:id/bench/copy.json', (req, res) => {
    const { draft, newest } = draftAt(req.params.id)
    const copy = findWorkingCopy(db, draft.id)
    const document = JSON.parse(copy?.document ?? newest.document) as object
    const kept = { base: copy?.base ?? newest.number, version: copy?.version ?? 0, savedAt: copy?.savedAt ?? '' }
    // The title is the draft's own, whatever it was called when the copy was made.
    res.json({ document: { ...document, title: draft.title }, newest: newest.number, ...kept })
  })

  router.post('/drafts/:id/bench/copy', json, (req, res) => {
    const { draft } = draftAt(req.params.id)
    const sent = readCopy(req.body)
    if (!sent.ok) return refuse(res, 422, sent.why)
    const { base, version } = sent.value
    const savedAt = now().toISOString()
    const result = saveWorkingCopy(db, draft.id, { base, version, document: documentText(sent.value.draft) }, savedAt)
    if (result.outcome === 'stale') {
      return refuse(res, 409, 'Another window has kept a working copy meanwhile.', { version: result.version })
    }
    res.json({ version: result.version, savedAt })
  })

  router.post('/drafts/:id/bench/discard', (req, res) => {
    const { draft } = draftAt(req.params.id)
    deleteWorkingCopy(db, draft.id)
    seeOther(res, `/drafts/${draft.id}/bench`, 'copy-gone')
  })

  router.post('/drafts/:id/bench/revision', json, (req, res) => {
    const { draft } = draftAt(req.params.id)
    const sent = readRevision(req.body)
    if (!sent.ok) return refuse(res, 422, sent.why)
    const result = saveBenchAsRevision(db, draft.id, sent.value, now().toISOString())
    if (result.outcome === 'absent') throw notFound('draft')
    if (result.outcome === 'same') {
      return refuse(res, 422, `Nothing differs from revision ${result.number}, so no new revision was made.`)
    }
    if (result.outcome === 'meanwhile') {
      return refuse(res, 409, sayMeanwhile(result.number), { newest: result.number })
    }
    res.status(201).json({ number: result.number, path: `${String(res.locals.base)}/drafts/${draft.id}?done=revision` })
  })

  return router
}

const toWords = ({ title, tablets, picks }: { title: string; tablets: string; picks: string }) => ({
  title,
  tablets,
  picks,
})

const sayMeanwhile = (newest: number) =>
  `Revision ${newest} was saved while yours lay on the bench, so yours is not a revision yet; it stays your working copy. ` +
  `Look at revision ${newest} first; saving once more keeps yours as revision ${newest + 1}, and the other stays.`
