import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import type { PageHead } from '../pages.ts'
import { dayInWords } from '../../shared/work/time-words.ts'
import type { PhotoEntered } from './form.ts'
import { LICENCES, licenceOf, NOT_EVALUATED } from './licence.ts'
import type { Photo, PhotoSubject, Place } from './queries.ts'
import type { PictureView } from './view.ts'

declare module '../pages.ts' {
  interface Pages {
    'photo/show': PhotoShowPage
    'photo/edit': PhotoEditPage
  }
}

/** What a photograph is of, by its name. */
export type NamedSubject = PhotoSubject & { readonly name: string }

interface PhotoEditPage extends PageHead {
  readonly action: string
  readonly back: string
  readonly subject: string
  readonly subjectPath: string
  readonly fields: Record<keyof PhotoEntered, FieldView>
  /** The file is chosen once; later only the words are changed. */
  readonly isNew: boolean
  readonly fileProblem: string
  readonly version: number | ''
  readonly problems: readonly { href: string; text: string }[]
}

interface PhotoShowPage extends PageHead {
  readonly id: number
  readonly subject: string
  readonly subjectPath: string
  readonly noun: string
  readonly picture: PictureView
  readonly zoom: Zoom
  readonly steps: readonly { readonly label: string; readonly path: string; readonly isCurrent: boolean }[]
  /** The ways to the one before and the one after; none where it is the only one. */
  readonly place: string
  readonly neighbours: readonly {
    readonly rel: 'prev' | 'next'
    readonly word: string
    readonly caption: string
    readonly path: string
  }[]
  readonly facts: readonly { readonly label: string; readonly text: string; readonly href: string }[]
  readonly mayEdit: boolean
  /** Of the file as it was sent; empty for everybody but the owner. */
  readonly original: string
}

const STEPS = [
  { zoom: '1', label: 'Whole' },
  { zoom: '2', label: 'Twice as wide' },
  { zoom: '4', label: 'Four times as wide' },
] as const
export type Zoom = (typeof STEPS)[number]['zoom']

export const readZoom = (typed: unknown): Zoom => STEPS.find(({ zoom }) => zoom === typed)?.zoom ?? '1'

const FIELDS: Record<keyof PhotoEntered, FieldSpec> = {
  caption: {
    label: 'What is seen',
    required: true,
    hint: 'A few words: they stand below the picture, and are read aloud to those who cannot see it.',
  },
  part: { label: 'Which part', hint: 'Such as left border, reverse, fringe. Empty for the whole.' },
  takenOn: { label: 'Taken', hint: 'As far as known: 2024, 2024-06 or 2024-06-30.' },
  credit: { label: 'Credit', hint: 'Who took it, and whoever else is to be named.' },
  licence: {
    label: 'Licence or rights',
    hint: 'What others may do with it. When in doubt: copyright not evaluated.',
    options: LICENCES.map(({ key, label }) => [key, label] as const),
  },
}

/** Of an original, which is somebody else's as a rule, nothing is promised unasked. */
export const blankPhoto = ({ noun }: PhotoSubject): PhotoEntered => ({
  ...{ caption: '', part: '', takenOn: '', credit: '' },
  licence: noun === 'original' ? NOT_EVALUATED.key : '',
})

export interface PhotoProblems {
  readonly fields?: Problems<PhotoEntered>
  readonly file?: string
}

export function newPhotoPage(
  subject: NamedSubject,
  entered: PhotoEntered,
  problems: PhotoProblems = {},
): PhotoEditPage {
  return { ...editPage(subject, entered, problems), isNew: true }
}

export function photoEditPage(
  { id, version }: Pick<Photo, 'id' | 'version'>,
  subject: NamedSubject,
  entered: PhotoEntered,
  problems: PhotoProblems = {},
): PhotoEditPage {
  const page = editPage(subject, entered, problems)
  const title = page.title.replace('New photograph of', 'Photograph of')
  return { ...page, title, action: `/photos/${id}`, back: `/photos/${id}`, version }
}

function editPage(
  subject: NamedSubject,
  entered: PhotoEntered,
  { fields: words = {}, file = '' }: PhotoProblems,
): PhotoEditPage {
  const fields = formFields(FIELDS, entered, words)
  const problems = [...problemList(fields), ...(file ? [{ href: '#f-photo', text: `The file: ${file}` }] : [])]
  const path = `/${subject.noun}s/${subject.id}`
  return {
    title: `New photograph of ${subject.name}`,
    section: `${subject.noun}s`,
    action: `${path}/photos`,
    back: path,
    subject: subject.name,
    subjectPath: path,
    fields,
    isNew: false,
    fileProblem: file,
    version: '',
    problems,
  }
}

/** Somebody else saved meanwhile: what was typed stays, and what they wrote stands beside each field that differs. */
export function stalePhotoPage(photo: Photo, subject: NamedSubject, entered: PhotoEntered): PhotoEditPage {
  const theirs = typedPhoto(photo)
  const problems: Problems<PhotoEntered> = {}
  for (const name of Object.keys(theirs) as (keyof PhotoEntered)[]) {
    const word = name === 'licence' ? licenceOf(theirs.licence).label : theirs[name]
    if (theirs[name] !== entered[name].trim())
      problems[name] = `Somebody else has saved “${word}” here meanwhile. Save again to put yours in its place.`
  }
  return photoEditPage(photo, subject, entered, { fields: problems })
}

export const typedPhoto = ({ caption, part, credit, licence, takenOn = '' }: Photo): PhotoEntered => ({
  ...{ caption, part, credit, licence, takenOn },
})

export interface PhotoRights {
  readonly mayEdit: boolean
  readonly mayOwn: boolean
}

export interface PhotoShown {
  readonly zoom: Zoom
  readonly rights: PhotoRights
  readonly notice: string
  readonly place: Place
}

export function photoShowPage(
  photo: Photo,
  subject: NamedSubject,
  picture: PictureView,
  { zoom, rights, notice, place }: PhotoShown,
): PhotoShowPage {
  const licence = licenceOf(photo.licence)
  return {
    title: photo.caption,
    section: `${subject.noun}s`,
    scripts: ['photo-zoom'],
    notice,
    id: photo.id,
    subject: subject.name,
    subjectPath: `/${subject.noun}s/${subject.id}`,
    noun: subject.noun,
    picture,
    zoom,
    steps: STEPS.map((step) => ({
      label: step.label,
      path: `/photos/${photo.id}${step.zoom === '1' ? '' : `?zoom=${step.zoom}`}#picture`,
      isCurrent: step.zoom === zoom,
    })),
    place: place.of > 1 ? `${place.number} of ${place.of}` : '',
    neighbours: (['previous', 'next'] as const).flatMap((word) => {
      const photo = place[word]
      if (!photo) return []
      const rel = word === 'next' ? 'next' : 'prev'
      return [{ rel, word: word === 'next' ? 'Next' : 'Previous', caption: photo.caption, path: `/photos/${photo.id}` }]
    }),
    facts: [
      { label: 'Part', text: photo.part, href: '' },
      { label: 'Taken', text: dateInWords(photo.takenOn), href: '' },
      { label: 'Credit', text: photo.credit, href: '' },
      { label: 'Licence', text: licence.label, href: licence.url },
      { label: 'As it was sent', text: `${photo.width} × ${photo.height} px`, href: '' },
    ].filter(({ text }) => text !== ''),
    mayEdit: rights.mayEdit,
    original: rights.mayOwn ? inMegabytes(photo.originalBytes) : '',
  }
}

/** A year stays a year: "2024", "June 2024", "30 June 2024". */
function dateInWords(date: string | undefined): string {
  if (date === undefined || date.length === 4) return date ?? ''
  if (date.length === 7) return dayInWords(`${date}-01`).replace(/^1 /, '')
  return dayInWords(date)
}

const inMegabytes = (bytes: number) =>
  bytes < 100_000 ? `${Math.max(1, Math.round(bytes / 1000))} kB` : `${(bytes / 1e6).toFixed(1)} MB`
