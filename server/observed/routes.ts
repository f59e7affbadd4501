import { Router, type Request, type Response } from 'express'
import { observedPicture } from '../../shared/observed/picture.ts'
import { compareWithDraft, type FaceComparison } from '../../shared/observed/woven-errors.ts'
import { toBin } from '../bin/queries.ts'
import { today, type Context } from '../context.ts'
import { findRevisionById, listRevisionChoices } from '../draft/revision-queries.ts'
import { notFound, readId } from '../errors.ts'
import { optionalId, readEntered } from '../form.ts'
import { noticeOf, seeOther } from '../notice.ts'
import { findOriginal } from '../original/queries.ts'
import { toHtml } from '../pages.ts'
import { listPhotos } from '../photo/queries.ts'
import { pictureView } from '../photo/view.ts'
import { findLastMaker, findPiece } from '../piece/queries.ts'
import { viewerMayCreate, viewerMayEdit } from '../rights/allowed.ts'
import { overPhotoView } from './over-photo.ts'
import { readObservedForm, writeColourLines, type ObservedEntered, type ObservedValue } from './form.ts'
import { observedEditPage, type ObservedSubjectView, type ShownAgain } from './edit-page.ts'
import { observedShowPage } from './show-page.ts'
import { findObserved, insertObserved, listObserved, type Observed, type ObservedSubject } from './queries.ts'

/** Over this many cells a face is not drawn on a page. */
const MOST_DRAWN = 60_000

export function observedRoutes(context: Context): Router {
  const { db, page, now, dataDir } = context
  const router = Router()
  const subjectAt = ({ noun, id }: ObservedSubject): ObservedSubjectView & { draftRevisionId: number | undefined } => {
    if (noun === 'original') {
      const original = findOriginal(db, id)
      if (!original) throw notFound('original')
      return { noun, id, name: original.name, originalId: id, draftRevisionId: undefined }
    }
    const piece = findPiece(db, id)
    if (!piece) throw notFound('piece')
    return { noun, id, name: piece.name, originalId: piece.originalId, draftRevisionId: piece.draftRevisionId }
  }
  const observedAt = (text: string | undefined): Observed => {
    const observed = findObserved(db, readId(text, 'observed face'))
    if (!observed) throw notFound('observed face')
    return observed
  }
  const photosOf = (subject: ObservedSubject | undefined) =>
    (subject ? listPhotos(db, subject) : [])
      .map((photo) => ({ id: photo.id, ...pictureView(dataDir, photo) }))
      .filter(({ isMissing }) => !isMissing)
  const editPage = (
    subject: ObservedSubjectView | undefined,
    entered: ObservedEntered,
    shown?: ShownAgain,
    again?: Observed,
  ) => {
    const id = optionalId().safeParse(entered.revision).data
    const lists = {
      photos: photosOf(subject),
      revisions: listRevisionChoices(db),
      revision: id === undefined ? undefined : findRevisionById(db, id),
      again,
    }
    return page('observed/edit', observedEditPage(subject, entered, lists, shown))
  }

  router.get('/observed/new', (req, res) => {
    const typed = readEntered(req.query, ['piece', 'original', 'draft', 'photo', 'again'])
    if (typed.again !== '') return void res.send(pageAgain(observedAt(typed.again)))
    const subject = readSubject(typed)
    if (subject && !viewerMayEdit(db, subject.noun, subject.id)) throw notFound(subject.noun)
    const about = subject && subjectAt(subject)
    const revision = typed.draft || String(about?.draftRevisionId ?? '')
    const blank = { colours: '', observed: '', marks: '', note: '' }
    const entered = {
      ...blank,
      photo: typed.photo,
      observedOn: today(context),
      observedBy: findLastMaker(db),
      revision,
    }
    res.send(editPage(about, entered))
  })

  /** Everything of a kept face but the day: what is kept from here is a new one. */
  const pageAgain = (kept: Observed) => {
    if (!viewerMayEdit(db, 'observed', kept.id)) throw notFound('observed face')
    const about = subjectAt(kept.subject)
    const entered = {
      colours: writeColourLines(kept.colours),
      ...{ observed: kept.cells, marks: kept.marks, note: kept.note },
      photo: String(kept.photoId ?? ''),
      observedOn: today(context),
      observedBy: findLastMaker(db),
      revision: String(kept.comparison?.revisionId ?? about.draftRevisionId ?? ''),
    }
    return editPage(about, entered, undefined, kept)
  }

  for (const noun of ['original', 'piece'] as const) {
    router.post(`/${noun}s/:id/observed`, (req: Request<{ id: string }>, res: Response) => {
      const about = subjectAt({ noun, id: readId(req.params.id, noun) })
      const form = readObservedForm(req.body, {
        today: today(context),
        photoIds: listPhotos(db, about).map(({ id }) => id),
        tabletsOf: (id) => findRevisionById(db, id)?.tablets,
      })
      if (!form.value) return void res.status(422).send(editPage(about, form.entered, form))
      const compared = compare(form.value)
      if (typeof compared === 'string') {
        const again = { places: form.places, problems: { revision: compared } }
        return void res.status(422).send(editPage(about, form.entered, again))
      }
      seeOther(res, `/observed/${insertObserved(db, about, form.value, compared, now().toISOString())}`, 'saved')
    })
  }

  /** The comparison, a sentence on why there can be none, or nothing where none was asked for. */
  const compare = ({ revisionId, face }: ObservedValue): FaceComparison | string | undefined => {
    const revision = revisionId === undefined ? undefined : findRevisionById(db, revisionId)
    if (!revision) return undefined
    try {
      return compareWithDraft(revision.draft, face)
    } catch (error) {
      if (error instanceof RangeError) return 'This draft and this face are too long to be set beside each other here.'
      throw error
    }
  }

  const drawn = ({ face, colours, comparison }: Observed) =>
    observedPicture(face, colours, {
      ...{ ground: '#fdfaf3', ink: '#2a2019', marked: comparison?.differing ?? [] },
      title: 'The face as it was seen, pick 1 at the left, tablet 1 on top',
    })

  router.get('/observed/:id', (req, res) => {
    const observed = observedAt(req.params.id)
    const isDrawn = observed.face.cells.length * observed.face.cells[0]!.length <= MOST_DRAWN
    const photo = listPhotos(db, observed.subject).find(({ id }) => id === observed.photoId)
    const shown = {
      overPhoto: photo && overPhotoView(observed, pictureView(dataDir, photo)),
      others: listObserved(db, observed.subject).filter(
        ({ id, photoId }) => id !== observed.id && photoId !== undefined && photoId === observed.photoId,
      ),
      subject: subjectAt(observed.subject),
      picture: isDrawn ? toHtml(drawn(observed)) : ('' as const),
      mayEdit: viewerMayEdit(db, 'observed', observed.id),
      mayCreate: viewerMayCreate(),
      notice: noticeOf(req),
    }
    res.send(page('observed/show', observedShowPage(db, observed, shown)))
  })

  router.get('/observed/:id/face.svg', (req, res) => {
    res.type('image/svg+xml').send(drawn(observedAt(req.params.id)))
  })

  router.post('/observed/:id/delete', (req, res) => {
    const { id, subject } = observedAt(req.params.id)
    toBin(db, 'observed', id, now().toISOString())
    seeOther(res, `/${subject.noun}s/${subject.id}?undo=observed-${id}#observed-faces`, 'deleted')
  })

  return router
}

function readSubject({ piece, original }: Record<'piece' | 'original', string>): ObservedSubject | undefined {
  const id = (text: string) => optionalId().safeParse(text).data
  const [pieceId, originalId] = [id(piece), id(original)]
  if (pieceId !== undefined) return { noun: 'piece', id: pieceId }
  return originalId === undefined ? undefined : { noun: 'original', id: originalId }
}
