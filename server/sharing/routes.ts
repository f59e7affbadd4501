import { Router } from 'express'
import type { Context } from '../context.ts'
import { HttpError, readId } from '../errors.ts'
import { parseForm } from '../form.ts'
import { seeOther } from '../notice.ts'
import { OWNED } from '../rights/readable.ts'
import { currentViewer, isAlone } from '../rights/viewer.ts'
import { coMakerSchema, sharingSchema } from './form.ts'
import { deleteCoMaker, insertCoMaker, setVisibility } from './queries.ts'

export function sharingRoutes({ db }: Pick<Context, 'db'>): Router {
  const router = Router()
  const refuseAlone = () => {
    if (isAlone(currentViewer())) throw new HttpError(409, 'There is nobody in this notebook to share with yet.')
  }

  for (const noun of OWNED) {
    router.post(`/${noun}s/:id/share`, (req, res) => {
      const id = readId(String(req.params.id), noun)
      refuseAlone()
      const form = parseForm(req.body, sharingSchema)
      if (!form.ok) throw new HttpError(422, 'Please go back and choose who may see this. Nothing was changed.')
      setVisibility(db, noun, id, form.value.visibility, form.value.grounds !== '')
      seeOther(res, `/${noun}s/${id}#sharing`, 'shared')
    })
  }

  const memberOf = (body: unknown): number => {
    refuseAlone()
    const form = parseForm(body, coMakerSchema)
    if (!form.ok || form.value.member === undefined)
      throw new HttpError(422, 'Please go back and choose somebody. Nothing was changed.')
    return form.value.member
  }

  router.post('/pieces/:id/co-makers', (req, res) => {
    const id = readId(req.params.id, 'piece')
    if (!insertCoMaker(db, id, memberOf(req.body)))
      throw new HttpError(422, 'This is nobody who can make the piece with you. Nothing was changed.')
    seeOther(res, `/pieces/${id}#sharing`, 'co-maker')
  })

  router.post('/pieces/:id/co-makers/remove', (req, res) => {
    const id = readId(req.params.id, 'piece')
    deleteCoMaker(db, id, memberOf(req.body))
    seeOther(res, `/pieces/${id}#sharing`, 'co-maker-gone')
  })

  return router
}
