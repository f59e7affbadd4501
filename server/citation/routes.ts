import { Router, type Request } from 'express'
import { z } from 'zod'
import { toCslItem } from '../../shared/source/to-csl.ts'
import { askCitation } from '../cite-thread.ts'
import { findSubjectName, listClaims, type Subject } from '../claim/queries.ts'
import type { Context } from '../context.ts'
import { HttpError, notFound, readId } from '../errors.ts'
import { choice, parseForm } from '../form.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { viewerIsKeeper } from '../rights/allowed.ts'
import { chosenSources } from '../source-export/selection.ts'
import { toReference } from '../source/reference.ts'
import { listSources, type Source } from '../source/queries.ts'
import { chosenStyle, STYLE_COOKIE } from './chosen.ts'
import { referenceHtml } from './html.ts'
import { bibliographyPage } from './pages.ts'
import { setNotebookStyle } from './queries.ts'
import { isStyleKey, STYLE_KEYS } from './style.ts'

/** More are formatted slowly, and nobody reads them on one page: they are taken out as a file. */
const MOST_ON_PAGE = 500
const YEAR_MS = 365 * 24 * 60 * 60 * 1000

const styleSchema = z.object({
  style: choice(STYLE_KEYS, 'Please choose a style from the list.'),
  for: choice(['browser', 'notebook'], 'Please choose where it counts.'),
})

export function citationRoutes({ db, page, baseUrl }: Context & { readonly baseUrl?: string | undefined }): Router {
  const router = Router()

  /** The sources that the claims about something rest on, withdrawn ones left out. */
  const sourcesOf = (subject: Subject): readonly Source[] => {
    const claims = listClaims(db, subject).filter(({ withdrawnOn }) => withdrawnOn === null)
    const ids = new Set(claims.flatMap(({ source }) => (source ? [source.id] : [])))
    return listSources(db).filter(({ id }) => ids.has(id))
  }
  const about = (req: Request) => {
    const { original, piece } = req.query
    if (original === undefined && piece === undefined) return undefined
    const isOriginal = original !== undefined
    const noun = isOriginal ? 'original' : 'piece'
    const id = readId(String(isOriginal ? original : piece), noun)
    const subject: Subject = isOriginal ? { originalId: id } : { pieceId: id }
    const name = findSubjectName(db, subject)
    if (name === undefined) throw notFound(noun)
    return { subject, name, path: `/${noun}s/${id}`, hidden: [{ name: noun, value: String(id) }] }
  }

  router.get('/bibliography', async (req, res) => {
    const of = about(req)
    const sources = of ? sourcesOf(of.subject) : chosenSources(listSources(db), req.query.source)
    if (sources.length > MOST_ON_PAGE) {
      const message = `${sources.length} sources are more than the ${MOST_ON_PAGE} that one page shows. Please choose some, or take them out as a file.`
      throw new HttpError(409, message)
    }
    const style = isStyleKey(req.query.style) ? req.query.style : chosenStyle(db, req)
    const items = sources.map((source) => toCslItem(source, source.other, String(source.id)))
    const printed = await askCitation({ kind: 'list', style, items })
    const byId = new Map(sources.map((source) => [String(source.id), source]))
    const entries = printed.flatMap(({ id, html }) => {
      const source = byId.get(id)
      return source
        ? [
            {
              path: `/sources/${id}`,
              title: source.title,
              html: html === '' ? toReference(source) : referenceHtml(html),
            },
          ]
        : []
    })
    const named =
      of || req.query.source === undefined ? [] : sources.map(({ id }) => ({ name: 'source', value: `${id}` }))
    const facts = { of, sources, entries, style, hidden: of?.hidden ?? named }
    res.send(page('citation/bibliography', bibliographyPage(facts, noticeOf(req))))
  })

  router.post('/citation-style', (req, res) => {
    const form = parseForm(req.body, styleSchema)
    if (!form.ok) throw new HttpError(422, Object.values(form.problems)[0] ?? '')
    const options = {
      ...{ path: `${String(res.locals.base ?? '')}/`, secure: baseUrl?.startsWith('https:') ?? false },
      ...({ httpOnly: true, sameSite: 'lax' } as const),
    }
    if (form.value.for === 'notebook') {
      if (!viewerIsKeeper()) throw new HttpError(403, 'Only who keeps the notebook chooses this for everybody.')
      setNotebookStyle(db, form.value.style)
      res.clearCookie(STYLE_COOKIE, options)
    } else res.cookie(STYLE_COOKIE, form.value.style, { ...options, maxAge: YEAR_MS })
    seeOther(res, '/bibliography', 'citation-style')
  })

  return router
}
