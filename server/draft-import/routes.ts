import { Router } from 'express'
import type { Context } from '../context.ts'
import { BLANK_DRAFT, draftEditPage } from '../draft/edit-page.ts'
import { insertDraft } from '../draft/queries.ts'
import { seeOther } from '../notice.ts'
import { listOriginalChoices } from '../original/queries.ts'
import { readImportForm } from './form.ts'
import { draftImportPage } from './pages.ts'

/** A draft from a document, a text or a table: looked at first, kept when that is asked. */
export function draftImportRoutes({ db, page, now }: Context): Router {
  const router = Router()

  router.get('/drafts/import', (_req, res) => void res.send(page('draft-import/show', draftImportPage())))

  router.post('/drafts/import', (req, res) => {
    const form = readImportForm(req.body)
    if (!form.value) return void res.status(422).send(page('draft-import/show', draftImportPage(form)))
    const { imported, convention } = form.value
    if (imported.kind === 'picks') {
      const entered = { ...BLANK_DRAFT, title: form.entered.title, turning: imported.picks.join('\n') }
      const blank = { entered, problems: {}, convention: form.convention, read: undefined, value: undefined }
      return void res.send(page('draft/edit', draftEditPage({ ...blank, drawOnly: false }, listOriginalChoices(db))))
    }
    const isLookedAt = form.entered.looked === form.looked
    if (imported.kind === 'face' || !form.keep || !isLookedAt)
      return void res.send(page('draft-import/show', draftImportPage(form, form.keep && !isLookedAt)))
    const kept = { draft: imported.draft, notes: '', originalId: undefined, convention }
    const { id } = insertDraft(db, kept, now().toISOString())
    seeOther(res, `/drafts/${id}`, 'saved')
  })

  return router
}
