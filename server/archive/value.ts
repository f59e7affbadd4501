import { z } from 'zod'
import { readWritten } from '../../shared/draft/convention/written.ts'
import { documentText } from '../../shared/draft/document-text.ts'
import { readDraft } from '../../shared/draft/document.ts'
import type { Json } from '../../shared/archive/canonical.ts'
import { fibreKey, LEAST_DENSITY, MOST_DENSITY } from '../../shared/yarn/density.ts'
import { BLEND_FIBRE, readBlend } from '../../shared/yarn/lot-blend.ts'
import { readLab } from '../../shared/yarn/lot-colour.ts'
import { readDating } from '../original/dating.ts'
import { isZone } from '../sitting/time.ts'

// What a field of an archive may hold. Nothing is trimmed or mended: what comes in is what was written out.

export const uid = () => z.string().regex(/^[0-9a-f]{32}$/, 'This is no uid: 32 of 0-9 and a-f.')

/** Any text without control characters (line feeds and tabs are none) and without halves of characters. */
export const text = (most: number) =>
  z
    .string()
    .max(most, `This is longer than ${most} characters.`)
    .refine((typed) => !/[\u0000-\u0008\u000b-\u001f\u007f]/.test(typed), 'There are control characters in this text.')
    .refine((typed) => !/\p{Surrogate}/u.test(typed), 'There is half a character in this text.')

export const number = (least: number, most: number) =>
  z.int(`This is a whole number from ${least} to ${most}.`).min(least).max(most)

/** A decimal as text, with a point; the largest and smallest that the program computes are written with an exponent. */
export const decimal = (notNegative = false) =>
  z
    .string()
    .max(60)
    .regex(/^[+-]?\d+(\.\d+)?(e[+-]?\d{1,3})?$/, 'This is no decimal number with a point, as text.')
    .refine((typed) => Number.isFinite(Number(typed)), 'This number is too large.')
    .refine((typed) => !notNegative || Number(typed) >= 0, 'This is not negative.')

/** In UTC, to the second or the millisecond: word for word as it was kept. */
export const instant = () =>
  z
    .string()
    .refine(
      (typed) => /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{3})?Z$/.test(typed) && isSame(typed, typed.slice(0, 19)),
      'This is no instant such as 2026-03-14T09:26:53.589Z.',
    )

export const day = () =>
  z
    .string()
    .refine((typed) => /^\d{4}-\d\d-\d\d$/.test(typed) && isSame(typed, typed), 'This is no day such as 2026-03-14.')

/** A year, a month or a day. */
export const date = () =>
  z
    .string()
    .refine(
      (typed) => /^\d{4}(-\d\d(-\d\d)?)?$/.test(typed) && isSame(`${typed}-01-01`.slice(0, 10), typed),
      'This is no year, month or day such as 2026-03.',
    )

function isSame(iso: string, start: string): boolean {
  const read = new Date(iso)
  return !Number.isNaN(read.getTime()) && read.toISOString().startsWith(start)
}

export const zone = () =>
  z.string().max(60).refine(isZone, 'This is no zone of the time zone list, such as Europe/Lisbon.')

/** `#rrggbb`, or empty. */
export const hexColour = () => z.string().regex(/^(#[0-9a-f]{6})?$/, 'This is no colour such as #9c3b2e.')

/** L, a and b as they are typed, or empty. */
export const labColour = () =>
  text(60).refine((typed) => typed === '' || readLab(typed).ok, 'This is no CIELAB colour such as 38.2 41.5 24.')

/** Three letters, or empty. */
export const currency = () => z.string().regex(/^([A-Z]{3})?$/, 'This is no currency such as EUR.')

/** A blend whose shares make 100 %, or empty. */
export const blend = () =>
  text(2000).refine((typed) => readBlend(typed).ok, 'This is no blend such as wool 80, silk 20.')

/** A fibre as a blend names it, by the word that it is looked up by. */
export const fibreWord = () =>
  text(60).refine((typed) => fibreKey(typed) === typed && BLEND_FIBRE.test(typed), 'This is no fibre such as wool.')

/** g/cm³ of a fibre, as text. */
export const fibreDensity = () =>
  decimal(true).refine(
    (typed) => Number(typed) >= LEAST_DENSITY && Number(typed) <= MOST_DENSITY,
    `A density of a fibre lies between ${LEAST_DENSITY} and ${MOST_DENSITY} g/cm³.`,
  )

/** EDTF, or empty. */
export const dating = () =>
  z.string().superRefine((typed, check) => {
    const read = typed === '' ? undefined : readDating(typed)
    if (read && !read.ok) check.addIssue({ code: 'custom', message: read.message })
    else if (read && read.dating.edtf !== typed)
      check.addIssue({ code: 'custom', message: 'There is space around it.' })
  })

/** Only what may stand behind a link: a page would run `javascript:`. */
export const webAddress = () =>
  text(2000).refine(
    (typed) => typed === '' || (URL.canParse(typed) && /^https?:$/.test(new URL(typed).protocol)),
    'A web address begins with http:// or https://.',
  )

/** How a draft was written down, word for word as the program writes it. */
export const convention = () =>
  z.string().refine((typed) => readWritten(typed) !== undefined, 'This is no convention of a draft.')

/** A draft document that the program can weave, word for word as it writes one. */
export const document = (): z.ZodType<Json> =>
  z.unknown().transform((input, check): Json => {
    const read = readDraft(input)
    if (read.ok) return JSON.parse(documentText(read.draft)) as Json
    for (const { path, message } of read.problems)
      check.addIssue({ code: 'custom', message: path === '' ? message : `${path}: ${message}` })
    return null
  })
