import { type Request, Router } from 'express'
import { deltaE2000, labOfHex } from '../../shared/colour/lab.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { toSignificant } from '../../shared/measure/rounding.ts'
import { greyScaleGrade } from '../../shared/yarn/lot-colour.ts'
import type { Context } from '../context.ts'
import { lookOver } from '../draft/look-over.ts'
import { drawPicture } from '../draft/picture.ts'
import { findDraft } from '../draft/queries.ts'
import { findRevision } from '../draft/revision-queries.ts'
import { readPictureSize, USUAL_SIZE } from '../draft/size.ts'
import { notFound, readId } from '../errors.ts'
import { formFields, type FieldView } from '../field.ts'
import { readEntered } from '../form.ts'
import { toHtml, type Html, type PageHead } from '../pages.ts'
import { listNearest, type NearLot } from './lot-page.ts'
import { listLots, type ShelfLot } from './queries.ts'
import { lotLabel } from './swatch.ts'

declare module '../pages.ts' {
  interface Pages {
    'yarn/draft': DraftInLotsPage
  }
}

interface DraftInLotsPage extends PageHead {
  readonly draft: { readonly path: string; readonly name: string }
  readonly action: string
  readonly face: Html
  readonly hasLots: boolean
  readonly colours: readonly {
    readonly name: string
    readonly hex: string
    readonly field: FieldView
    /** Of the lot chosen; empty without one. */
    readonly chosen: { readonly hex: string; readonly difference: string; readonly grade: string } | ''
    readonly nearest: readonly NearLot[]
  }[]
}

const NEAREST = 3

/** The draft of a revision in the colours of the lots on the shelf. Nothing of it is kept: the address says it all. */
export function lotColourRoutes({ db, page }: Pick<Context, 'db' | 'page'>): Router {
  const router = Router()
  router.get('/drafts/:id/revisions/:number/lots', (req: Request<{ id: string; number: string }>, res) => {
    const draft = findDraft(db, readId(req.params.id, 'draft'))
    if (!draft) throw notFound('draft')
    const revision = findRevision(db, draft.id, readId(req.params.number, 'revision'))
    if (!revision) throw notFound('revision')
    const name = `${draft.title}, revision ${revision.number}`
    const path = `/drafts/${draft.id}/revisions/${revision.number}`
    res.send(page('yarn/draft', draftInLotsPage({ path, name }, revision.draft, listLots(db), req.query)))
  })
  return router
}

function draftInLotsPage(
  at: DraftInLotsPage['draft'],
  draft: Draft,
  lots: readonly ShelfLot[],
  query: unknown,
): DraftInLotsPage {
  const coloured = lots.filter(({ lab }) => lab !== undefined)
  const keys = Object.keys(draft.colours)
  const typed = readEntered(query, [...keys.map((key) => `lot-${key}`), 'fill'])
  const chosenOf = (key: string): ShelfLot | undefined => {
    const nearest = typed.fill === 'nearest' ? nearestTo(draft.colours[key]!.hex, coloured) : undefined
    return nearest ?? coloured.find(({ id }) => String(id) === typed[`lot-${key}`])
  }
  const chosen = new Map(keys.map((key) => [key, chosenOf(key)]))
  const colours = Object.fromEntries(
    Object.entries(draft.colours).map(([key, colour]) => [key, { ...colour, hex: chosen.get(key)?.hex ?? colour.hex }]),
  )
  const recoloured: Draft = { ...draft, colours }
  const size = readPictureSize({}, { tablets: draft.tablets.length, picks: draft.picks.length })
  const drawable = { draft: recoloured, turning: lookOver(draft).turning }
  const options = [['', 'as drafted'] as const, ...coloured.map((lot) => [String(lot.id), lotLabel(lot)] as const)]
  return {
    ...{ title: 'In the colours of the lots', section: 'drafts', draft: at, action: `${at.path}/lots` },
    face: toHtml(drawPicture('face', drawable, size.ok ? size.value : USUAL_SIZE, { lie: 'across', idPrefix: 'lots' })),
    hasLots: coloured.length > 0,
    colours: keys.map((key) => {
      const { name, hex } = draft.colours[key]!
      const lot = chosen.get(key)
      const field = `lot-${key}`
      return {
        ...{ name: name || key, hex },
        field: formFields(
          { [field]: { label: `Lot for ${name || key}`, options } },
          { [field]: String(lot?.id ?? '') },
        )[field]!,
        chosen: lot?.lab ? chosenView(hex, lot) : '',
        nearest: listNearest(labOfHex(hex), coloured, NEAREST),
      }
    }),
  }
}

function nearestTo(hex: string, lots: readonly ShelfLot[]): ShelfLot | undefined {
  const path = listNearest(labOfHex(hex), lots, 1)[0]?.path
  return lots.find(({ id }) => `/lots/${id}` === path)
}

function chosenView(hex: string, lot: ShelfLot) {
  const [lab, other] = [labOfHex(hex), lot.lab!]
  const { grade, words } = greyScaleGrade(lab, other)
  const difference = deltaE2000(lab, other)
  return {
    ...{ hex: lot.hex, grade: `${grade}, ${words}` },
    difference: difference === 0 ? '0' : toSignificant(difference, 2),
  }
}
