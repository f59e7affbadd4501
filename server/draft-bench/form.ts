import { z } from 'zod'
import { readDraft } from '../../shared/draft/document.ts'
import { LONGEST_TITLE } from '../../shared/draft/document-shape.ts'
import { type Draft, MOST_PICKS, MOST_TABLETS } from '../../shared/draft/draft.ts'
import { lines, optionalId, parseForm, type Parsed, requiredLine } from '../form.ts'

const number = z.int().min(0).max(1_000_000_000)
const copyShape = z.object({ document: z.unknown(), base: number, version: number })
const note = z
  .string()
  .transform((text) => text.replace(/\r\n?/g, '\n'))
  .pipe(lines(2000))
const revisionShape = z.object({ document: z.unknown(), note, newest: number })

type Sent<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly why: string }

/** A working copy as the bench sends it: strictly a draft document, for it is opened again as one. */
export function readCopy(body: unknown): Sent<{ draft: Draft; base: number; version: number }> {
  const read = copyShape.safeParse(body)
  return read.success
    ? withDraft(read.data)
    : { ok: false, why: 'A working copy is JSON of document, base and version.' }
}

export function readRevision(body: unknown): Sent<{ draft: Draft; note: string; newest: number }> {
  const read = revisionShape.safeParse(body)
  if (read.success) return withDraft(read.data)
  const [first] = read.error.issues
  const why =
    first?.path[0] === 'note' ? `The note: ${first.message}` : 'A revision is JSON of document, note and newest.'
  return { ok: false, why: `${why} Nothing was kept as a revision.` }
}

function withDraft<T extends { document: unknown }>({
  document,
  ...rest
}: T): Sent<Omit<T, 'document'> & { draft: Draft }> {
  const read = readDraft(document)
  if (read.ok) return { ok: true, value: { ...rest, draft: read.draft } }
  const [first] = read.problems
  return { ok: false, why: `This is not a draft document: ${first!.path} ${first!.message}` }
}

const count = (label: string, most: number) =>
  z
    .string()
    .trim()
    .regex(/^\d{1,6}$/, `How many ${label}? A whole number, please.`)
    .refine((text) => Number(text) >= 1 && Number(text) <= most, `From 1 to ${most}, please.`)

const beginSchema = z.object({
  title: requiredLine('Please give the draft a title.', LONGEST_TITLE),
  original: optionalId(),
  tablets: count('tablets', MOST_TABLETS),
  picks: count('picks', MOST_PICKS),
})

export type BeginForm = z.output<typeof beginSchema>
export type BeginEntered = Record<keyof BeginForm, string>

export const readBeginForm = (body: unknown): Parsed<BeginForm, BeginEntered> => parseForm(body, beginSchema)

/** A plain band to begin with: two colours, S in the left half and Z in the right, every pick forward. */
export function plainDraft(title: string, tablets: number, picks: number): Draft {
  const colours = { m: { name: 'madder', hex: '#9c3b2e' }, w: { name: 'undyed', hex: '#e9dfc8' } }
  return {
    ...{ title, colours, weft: 'm' },
    tablets: Array.from({ length: tablets }, (_, at) => ({
      ...{ start: 'A' as const, part: 'pattern' as const, holes: ['m', 'm', 'w', 'w'] as const },
      threading: at < tablets / 2 ? ('S' as const) : ('Z' as const),
    })),
    picks: Array.from({ length: picks }, () => `${tablets}F`),
  }
}
