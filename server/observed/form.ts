import { z } from 'zod'
import type { Colour, ColourKey } from '../../shared/draft/draft.ts'
import { readColourText } from '../../shared/draft/entry/colour-text.ts'
import type { TextProblem } from '../../shared/draft/entry-line.ts'
import type { ObservedFace } from '../../shared/draft/infer/observed.ts'
import { readObserved } from '../../shared/draft/infer/observed-text.ts'
import { bandMap } from '../../shared/observed/band-map.ts'
import { day, line, lines, optionalId, parseForm, type Problems, readEntered } from '../form.ts'

/** `colours` and `observed` are written as for working out a draft: the same form can be sent there. */
const FIELDS = ['colours', 'observed', 'photo', 'marks', 'observedOn', 'observedBy', 'note', 'revision'] as const
export type ObservedEntered = Record<(typeof FIELDS)[number], string>

export interface ObservedValue {
  readonly colours: Readonly<Record<ColourKey, Colour>>
  readonly face: ObservedFace
  readonly photoId: number | undefined
  /** JSON of `BandMarks`, or empty. */
  readonly marks: string
  readonly observedOn: string | undefined
  readonly observedBy: string
  readonly note: string
  readonly revisionId: number | undefined
}

export interface ObservedForm {
  readonly entered: ObservedEntered
  readonly problems: Problems<ObservedEntered>
  readonly places: Readonly<Record<'colours' | 'observed', readonly TextProblem[]>>
  readonly value: ObservedValue | undefined
}

const point = z.strictObject({ x: z.number(), y: z.number() })
const shift = z.strictObject({ across: z.number(), along: z.number() })
/** Where the band lay on the photograph; pixels of the picture as it was worked on. */
export const marksShape = z.strictObject({
  corners: z.strictObject({ startLeft: point, startRight: point, endRight: point, endLeft: point }),
  bend: z.tuple([shift, shift, shift]),
  tablets: z.int().min(1).max(400),
  picks: z.int().min(1).max(20_000),
  width: z.int().min(1).max(100_000),
  height: z.int().min(1).max(100_000),
})

const schema = (today: string) =>
  z.object({
    photo: optionalId(),
    marks: z.string().max(4000).refine(isMarks, 'The marks on the photograph could not be read.').transform(toMarks),
    observedOn: day().refine((text) => text === undefined || text <= today, 'That day has not come yet.'),
    observedBy: line(200),
    note: lines(2000),
    revision: optionalId(),
  })

/** What the form refers to and only the notebook knows. */
export interface ObservedAround {
  readonly today: string
  readonly photoIds: readonly number[]
  /** Tablets of a draft revision; undefined where there is none that the viewer may see. */
  readonly tabletsOf: (revisionId: number) => number | undefined
}

export function readObservedForm(body: unknown, { today, photoIds, tabletsOf }: ObservedAround): ObservedForm {
  const entered = readEntered(body, FIELDS)
  const form = parseForm(entered, schema(today))
  const problems: Problems<ObservedEntered> = form.ok ? {} : { ...form.problems }
  const { colours, problems: ofColours } = readColourText(entered.colours)
  const observed = readObserved(entered.observed, colours)
  const places = { colours: ofColours, observed: observed.ok ? [] : observed.problems }
  if (form.ok) Object.assign(problems, referenceProblems())
  const isGood = form.ok && observed.ok && ofColours.length === 0 && Object.keys(problems).length === 0
  if (!isGood) return { entered, problems, places, value: undefined }
  const { photo, revision, ...rest } = form.value
  return {
    ...{ entered, problems, places },
    value: { ...rest, photoId: photo, revisionId: revision, colours, face: observed.observed },
  }

  function referenceProblems(): Problems<ObservedEntered> {
    if (!form.ok) return {}
    const { photo, revision } = form.value
    if (photo !== undefined && !photoIds.includes(photo)) return { photo: 'This photograph is not there any more.' }
    if (revision === undefined) return {}
    const tablets = tabletsOf(revision)
    if (tablets === undefined) return { revision: 'This draft is not in the notebook any more.' }
    const seen = observed.ok ? observed.observed.cells[0]!.length : tablets
    if (seen === tablets) return {}
    const has = tablets === 1 ? '1 tablet' : `${tablets} tablets`
    return { revision: `This draft has ${has}, but the observed face has ${seen}: they cannot be compared.` }
  }
}

function isMarks(text: string): boolean {
  if (text === '') return true
  try {
    bandMap(marksShape.parse(JSON.parse(text)))
    return true
  } catch {
    return false
  }
}

const toMarks = (text: string) => (text === '' ? '' : JSON.stringify(marksShape.parse(JSON.parse(text))))

/** As the form takes them: a key, a name and #rrggbb a line. */
export const writeColourLines = (colours: Readonly<Record<ColourKey, Colour>>): string =>
  Object.entries(colours)
    .map(([key, { name, hex }]) => `${key} ${name} ${hex}`)
    .join('\n')
