import { Router } from 'express'
import type { Context } from '../context.ts'
import { HttpError, notFound, readId } from '../errors.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { findOriginal, listOriginalChoices } from '../original/queries.ts'
import { draftDetailsPage } from './details-page.ts'
import { blankDraftForm, draftEditPage, enteredOf } from './edit-page.ts'
import { readDetailsForm, readDraftForm, readImportForm, readRevisionForm } from './form.ts'
import { draftImportPage } from './import-page.ts'
import { draftShowPage } from './pages.ts'
import { deleteDraft, findDraft, insertDraft, listPiecesOfDraft, type NotebookDraft, updateDraft } from './queries.ts'
import { findNewestRevision, findRevision, insertRevision, listRevisions, type Revision } from './revision-queries.ts'

export function draftRoutes({ db, page, now }: Context): Router {
  const router = Router()
  const draftAt = (text: string | undefined) => {
    const draft = findDraft(db, readId(text, 'draft'))
    if (!draft) throw notFound('draft')
    return draft
  }
  const newestOf = (draft: NotebookDraft) => {
    const revision = findNewestRevision(db, draft.id)
    if (!revision) throw notFound('draft')
    return revision
  }
  const revisionAt = (draft: NotebookDraft, text: string | undefined) => {
    const revision = findRevision(db, draft.id, readId(text, 'revision'))
    if (!revision) throw notFound('revision')
    return revision
  }
  const isOriginal = (id: number) => findOriginal(db, id) !== undefined
  const editPage = (...[form, revised]: [Parameters<typeof draftEditPage>[0], Parameters<typeof draftEditPage>[2]?]) =>
    page('draft/edit', draftEditPage(form, listOriginalChoices(db), revised))
  const showPage = (draft: NotebookDraft, revision: Revision, query: unknown, notice: string) =>
    page(
      'draft/show',
      draftShowPage({
        ...{ draft, revision, query, notice },
        revisions: listRevisions(db, draft.id),
        pieces: listPiecesOfDraft(db, draft.id),
      }),
    )

  router.get('/drafts/new', (req, res) => {
    const { original } = req.query
    res.send(editPage(blankDraftForm(typeof original === 'string' ? original : '')))
  })

  router.get('/drafts/import', (_req, res) => void res.send(page('draft/import', draftImportPage())))

  router.post('/drafts/import', (req, res) => {
    const form = readImportForm(req.body)
    if (!form.ok) return void res.status(422).send(page('draft/import', draftImportPage(form.entered, form.problems)))
    const { id } = insertDraft(db, { draft: form.draft, notes: '', originalId: undefined }, now().toISOString())
    seeOther(res, `/drafts/${id}`, 'saved')
  })

  router.post('/drafts', (req, res) => {
    const form = readDraftForm(req.body, isOriginal)
    if (form.drawOnly || !form.value) return void res.status(form.value ? 200 : 422).send(editPage(form))
    const { draft, notes, original: originalId, note } = form.value
    const { id } = insertDraft(db, { draft, notes, originalId, note }, now().toISOString())
    seeOther(res, `/drafts/${id}`, 'saved')
  })

  router.get('/drafts/:id', (req, res) => {
    const draft = draftAt(req.params.id)
    res.send(showPage(draft, newestOf(draft), req.query, noticeOf(req)))
  })

  router.get('/drafts/:id/revisions/:number', (req, res) => {
    const draft = draftAt(req.params.id)
    res.send(showPage(draft, revisionAt(draft, req.params.number), req.query, noticeOf(req)))
  })

  router.get('/drafts/:id/edit', (req, res) => {
    const draft = draftAt(req.params.id)
    const newest = newestOf(draft)
    const { revision } = req.query
    const from = revision === undefined ? newest : revisionAt(draft, String(revision))
    const form = readRevisionForm(enteredOf(from), draft.title)
    res.send(editPage(form, { draft, number: from.number, newest: newest.number }))
  })

  router.post('/drafts/:id/revisions', (req, res) => {
    const draft = draftAt(req.params.id)
    const newest = newestOf(draft).number
    const { from } = req.query
    const number = from === undefined ? newest : revisionAt(draft, String(from)).number
    const form = readRevisionForm(req.body, draft.title)
    const revised = { draft, number, newest }
    if (form.drawOnly || !form.value) return void res.status(form.value ? 200 : 422).send(editPage(form, revised))
    const result = insertRevision(db, draft.id, form.value, now().toISOString())
    if (result.outcome === 'absent') throw notFound('draft')
    if (result.outcome === 'same') return void res.send(editPage(form, { ...revised, same: true }))
    seeOther(res, `/drafts/${draft.id}`, 'revision')
  })

  router.get('/drafts/:id/details', (req, res) => {
    const draft = draftAt(req.params.id)
    const entered = { title: draft.title, notes: draft.notes, original: String(draft.originalId ?? '') }
    res.send(page('draft/details', draftDetailsPage(draft, entered, listOriginalChoices(db))))
  })

  router.post('/drafts/:id', (req, res) => {
    const draft = draftAt(req.params.id)
    const form = readDetailsForm(req.body, isOriginal)
    if (!form.ok) {
      const shown = draftDetailsPage(draft, form.entered, listOriginalChoices(db), form.problems)
      return void res.status(422).send(page('draft/details', shown))
    }
    const { original: originalId, ...details } = form.value
    updateDraft(db, draft.id, { ...details, originalId }, now().toISOString())
    seeOther(res, `/drafts/${draft.id}`, 'saved')
  })

  router.post('/drafts/:id/delete', (req, res) => {
    const result = deleteDraft(db, readId(req.params.id, 'draft'))
    if (result.outcome === 'absent') throw notFound('draft')
    if (result.outcome === 'used') throw new HttpError(409, sayUsed(result.pieces.map(({ name }) => name)))
    seeOther(res, '/drafts', 'deleted')
  })

  return router
}

function sayUsed(names: readonly string[]): string {
  const shown = names.slice(0, 5).map((name) => `“${name}”`)
  const more = names.length - shown.length
  const list = more > 0 ? `${shown.join(', ')} and ${more} more` : shown.join(', ')
  const are = names.length === 1 ? 'a piece that is' : 'pieces that are'
  return `This draft has ${are} woven from it, so it stays: ${list}. Give them another draft or none first.`
}
