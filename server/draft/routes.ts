import { Router } from 'express'
import type { Context } from '../context.ts'
import { HttpError, notFound, readId } from '../errors.ts'
import { viewerMayCreate, viewerMayEdit, viewerMayOwn } from '../rights/allowed.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { findOriginal, listOriginalChoices } from '../original/queries.ts'
import { sharingView } from '../sharing/view.ts'
import { draftDetailsPage } from './details-page.ts'
import { blankDraftForm, draftEditPage, enteredOf } from './edit-page.ts'
import { readDetailsForm, readDraftForm, readRevisionForm } from './form.ts'
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
        mayWeave: viewerMayCreate(),
        mayEdit: viewerMayEdit(db, 'draft', draft.id),
        mayOwn: viewerMayOwn(db, 'draft', draft.id),
        sharing: sharingView(db, 'draft', draft.id),
      }),
    )

  router.get('/drafts/new', (req, res) => {
    const { original } = req.query
    res.send(editPage(blankDraftForm(typeof original === 'string' ? original : '')))
  })

  router.post('/drafts', (req, res) => {
    const form = readDraftForm(req.body, isOriginal)
    if (form.drawOnly || !form.value) return void res.status(form.value ? 200 : 422).send(editPage(form))
    const { original: originalId, ...value } = form.value
    const { id } = insertDraft(db, { ...value, originalId }, now().toISOString())
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
    const { revision, as } = req.query
    const from = revision === undefined ? newest : revisionAt(draft, String(revision))
    const form = readRevisionForm(
      enteredOf(from, as === 'card' ? draft.written : undefined),
      draft.title,
      draft.written,
    )
    res.send(editPage(form, { draft, number: from.number, newest: newest.number }))
  })

  router.post('/drafts/:id/revisions', (req, res) => {
    const draft = draftAt(req.params.id)
    const newest = newestOf(draft).number
    const { from } = req.query
    const number = from === undefined ? newest : revisionAt(draft, String(from)).number
    const form = readRevisionForm(req.body, draft.title, draft.written)
    const opened = /^\d+$/.test(String(req.query.newest)) ? Number(req.query.newest) : newest
    const revised = { draft, number, newest }
    if (form.drawOnly || !form.value) return void res.status(form.value ? 200 : 422).send(editPage(form, revised))
    if (opened < newest) return void res.status(409).send(editPage(form, { ...revised, meanwhile: opened + 1 }))
    const result = insertRevision(db, draft.id, form.value, now().toISOString())
    if (result.outcome === 'absent') throw notFound('draft')
    if (result.outcome === 'same') return void res.send(editPage(form, { ...revised, same: true }))
    seeOther(res, `/drafts/${draft.id}`, 'revision')
  })

  router.get('/drafts/:id/details', (req, res) => {
    const draft = draftAt(req.params.id)
    const entered = { title: draft.title, notes: draft.notes, original: String(draft.originalId ?? '') }
    res.send(page('draft/details', draftDetailsPage(draft, entered, listOriginalChoices(db, draft.originalId))))
  })

  router.post('/drafts/:id', (req, res) => {
    const draft = draftAt(req.params.id)
    const form = readDetailsForm(req.body, (id) => id === draft.originalId || isOriginal(id))
    if (!form.ok) {
      const shown = draftDetailsPage(draft, form.entered, listOriginalChoices(db, draft.originalId), form.problems)
      return void res.status(422).send(page('draft/details', shown))
    }
    const { original: originalId, ...details } = form.value
    updateDraft(db, draft.id, { ...details, originalId }, now().toISOString())
    seeOther(res, `/drafts/${draft.id}`, 'saved')
  })

  router.post('/drafts/:id/delete', (req, res) => {
    const result = deleteDraft(db, readId(req.params.id, 'draft'), now().toISOString())
    if (result.outcome === 'absent') throw notFound('draft')
    if (result.outcome === 'used') throw new HttpError(409, sayUsed(result.pieces, result.seen))
    seeOther(res, `/drafts?undo=draft-${req.params.id}`, 'deleted')
  })

  return router
}

function sayUsed(pieces: number, seen: readonly { name: string }[]): string {
  const shown = seen.slice(0, 5).map(({ name }) => `“${name}”`)
  const more = pieces - shown.length
  const list =
    more > 0
      ? [shown.join(', '), `${more} ${shown.length > 0 ? 'more' : 'not shown to you'}`].filter(Boolean).join(' and ')
      : shown.join(', ')
  const are = pieces === 1 ? 'a piece that is' : 'pieces that are'
  return `This draft has ${are} woven from it, so it stays: ${list}. Give them another draft or none first.`
}
