import { z } from 'zod'
import { readDraft } from '../../shared/draft/document.ts'
import { LONGEST_TITLE } from '../../shared/draft/document-shape.ts'
import type { Draft } from '../../shared/draft/draft.ts'
import { readColourText } from '../../shared/draft/entry/colour-text.ts'
import type { TextProblem } from '../../shared/draft/entry-line.ts'
import { readKnown } from '../../shared/draft/infer/known-text.ts'
import { readObserved } from '../../shared/draft/infer/observed-text.ts'
import { type InferRequest, listRequestProblems } from '../../shared/draft/infer/request.ts'
import { HttpError } from '../errors.ts'
import { line, optionalId, parseForm, type Problems, readEntered, wholeNumber } from '../form.ts'
import { note } from '../markdown.ts'

/*
 * The fields of `POST /drafts/infer`. Other pages may post the same, as any HTML form does:
 *   title         optional, one line
 *   original      optional, id of the original that the draft will belong to
 *   colours       one a line as in the draft form: `m madder #9c3b2e`          (needed)
 *   weft          a key of these; the first colour when empty
 *   observed      the observed face in the form of `writeObserved`             (needed)
 *   known         threading, holes and start as in `writeKnown`; empty: nothing is known
 *   closes        `yes` or empty
 *   twistNeutral  `yes` or empty
 *   longestFloat  a whole number of picks, or empty
 *   fill          `yes`: only show the form with these words in it, work nothing out yet
 */
export const FIELDS = [
  ...['title', 'original', 'colours', 'weft', 'observed', 'known'],
  ...['closes', 'twistNeutral', 'longestFloat'],
] as const

const plain = z.object({
  title: line(LONGEST_TITLE),
  original: optionalId(),
  weft: line(20),
  longestFloat: wholeNumber(1, 20_000),
})

export type InferEntered = Record<string, string>
export type InferLines = 'colours' | 'observed' | 'known'

export interface InferForm {
  readonly entered: InferEntered
  /** Sentences beside the plain fields. */
  readonly problems: Problems
  /** Problems with line and character, beside the fields of several lines. */
  readonly places: Readonly<Record<InferLines, readonly TextProblem[]>>
  /** There when nothing is wrong. */
  readonly value:
    { readonly title: string; readonly originalId: number | undefined; readonly request: InferRequest } | undefined
  readonly fillOnly: boolean
}

/** Every word of the form with what it comes to. */
export function readInferForm(body: unknown): InferForm {
  const entered: InferEntered = readEntered(body, FIELDS)
  const form = parseForm(entered, plain)
  const { colours, problems: ofColours } = readColourText(entered.colours ?? '')
  const observed = readObserved(entered.observed ?? '', colours)
  const tablets = observed.ok ? observed.observed.cells[0]!.length : 0
  const known = readKnown(entered.known ?? '', tablets, colours)
  const problems: Problems = form.ok ? {} : { ...form.problems }
  const weft = (entered.weft ?? '').trim().toLowerCase() || (Object.keys(colours)[0] ?? '')
  // Where no colour can be read that is said already.
  if (weft !== '' && !Object.hasOwn(colours, weft)) problems.weft ??= `No colour has the key “${weft.slice(0, 12)}”.`
  const places = {
    colours: ofColours,
    observed: observed.ok ? [] : observed.problems,
    // Without the face nobody knows how many tablets there should be.
    known: known.ok || !observed.ok ? [] : known.problems,
  }
  const result = { entered, problems, places, fillOnly: readEntered(body, ['fill']).fill !== '' }
  const good = form.ok && observed.ok && known.ok && ofColours.length === 0 && Object.keys(problems).length === 0
  if (!good) return { ...result, value: undefined }
  const { longestFloat } = form.value
  const request: InferRequest = {
    ...{ colours, weft, tablets: known.tablets, observed: observed.observed },
    require: {
      closes: entered.closes !== '',
      twistNeutral: entered.twistNeutral !== '',
      ...(longestFloat === undefined ? {} : { longestFloat }),
    },
  }
  for (const { path, message } of listRequestProblems(request)) problems[fieldOf(path)] ??= message
  if (Object.keys(problems).length > 0) return { ...result, value: undefined }
  return { ...result, value: { title: form.value.title, originalId: form.value.original, request } }
}

/** Which field of the form a path of the request stands in. */
function fieldOf(path: string): string {
  const [first, second] = path.split(/[.[]/)
  if (first === 'require') return second ?? 'closes'
  return first === 'tablets' ? 'known' : (first ?? 'observed')
}

/**
 * The draft that somebody keeps as it was shown to them; nothing of it is typed.
 * @throws HttpError when it is not one of ours
 */
export function readKeepForm(body: unknown): { draft: Draft; notes: string; originalId: number | undefined } {
  const { document, notes, original } = readEntered(body, ['document', 'notes', 'original'])
  const read = readDraft(parseJson(document))
  if (!read.ok) throw new HttpError(400, 'That is not a draft that was worked out here, so it was not kept.')
  const said = note().safeParse(notes)
  if (!said.success) throw new HttpError(400, `The notes were not kept: ${said.error.issues[0]!.message}`)
  const title = read.draft.title.trim() || 'Worked out from an observed face'
  const id = optionalId().safeParse(original)
  return {
    draft: { ...read.draft, title },
    notes: said.data,
    originalId: id.success ? id.data : undefined,
  }
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}
