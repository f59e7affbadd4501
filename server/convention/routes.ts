import { Router } from 'express'
import type { Context } from '../context.ts'
import { findDraft } from '../draft/queries.ts'
import { notFound, readId } from '../errors.ts'
import { readEntered } from '../form.ts'
import { seeOther } from '../notice.ts'
import { enteredOfConvention, readConventionForm } from './form.ts'
import { conventionEditPage } from './pages.ts'
import { updateConvention } from './queries.ts'

/** How a draft was written down: said, corrected, and converted by it where it was not yet. */
export function conventionRoutes({ db, page, now }: Context): Router {
  const router = Router()
  const draftAt = (text: string | undefined) => {
    const draft = findDraft(db, readId(text, 'draft'))
    if (!draft) throw notFound('draft')
    return draft
  }

  router.get('/drafts/:id/convention', (req, res) => {
    const draft = draftAt(req.params.id)
    const entered = enteredOfConvention({ written: draft.written, note: draft.conventionNote })
    res.send(page('convention/edit', conventionEditPage(draft, { entered, problems: {}, value: undefined })))
  })

  router.post('/drafts/:id/convention', (req, res) => {
    const draft = draftAt(req.params.id)
    const form = readConventionForm(req.body)
    const { convert, opened } = readEntered(req.body, ['convert', 'opened'])
    const again = (isStale: boolean) => page('convention/edit', conventionEditPage(draft, form, { convert, isStale }))
    if (!form.value) return void res.status(422).send(again(false))
    const asked = { convention: form.value, convert: convert !== '', opened: Number(opened) }
    const outcome = updateConvention(db, draft, asked, now().toISOString())
    if (outcome === 'stale') return void res.status(409).send(again(true))
    seeOther(res, `/drafts/${draft.id}`, outcome === 'converted' ? 'revision' : 'saved')
  })

  return router
}
