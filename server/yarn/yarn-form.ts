import { z } from 'zod'
import type { CountReading } from '../../shared/yarn/count-reading.ts'
import { readYarnBuild, toBuildNotation } from '../../shared/yarn/build.ts'
import { readBlend, writeBlend } from '../../shared/yarn/lot-blend.ts'
import { readCount } from '../../shared/yarn/written-count.ts'
import { decimalText, line, parseForm, requiredLine, type Parsed } from '../form.ts'
import { note } from '../markdown.ts'
import { readingKey } from './reading.ts'

const measure = (most: number, message: string) =>
  decimalText(message).refine((text) => text === undefined || (Number(text) > 0 && Number(text) < most), message)

export const yarnSchema = z.object({
  name: requiredLine('Please give the yarn a name, such as what the maker of it calls it.'),
  blend: line(500).transform((text, check) => {
    const read = readBlend(text)
    if (read.ok) return writeBlend(read.parts)
    check.addIssue({ code: 'custom', message: read.message })
    return text
  }),
  count: line(120),
  countReading: line(120),
  build: line(40).transform((text, check) => {
    if (text === '') return ''
    const read = readYarnBuild(text)
    if (read.ok) return toBuildNotation(read.build)
    check.addIssue({ code: 'custom', message: read.message })
    return text
  }),
  wrapsPerCm: measure(1000, 'Please type wraps in a cm, above 0; or leave it out.'),
  diameterMm: measure(100, 'Please type a diameter in mm, above 0 and below 100; or leave it out.'),
  supplier: line(),
  notes: note(),
})

export type YarnForm = z.output<typeof yarnSchema>
export type YarnEntered = Record<keyof YarnForm, string>

/** The value; or what was typed, with the readings to choose from where the count can be read in several ways. */
export type ReadYarn = Parsed<YarnForm, YarnEntered> & { readonly readings?: readonly CountReading[] }

export function readYarnForm(body: unknown): ReadYarn {
  const form = parseForm(body, yarnSchema)
  const typed = form.ok ? form.value : form.entered
  const { problem, reading, readings } = readTyped(typed.count.trim(), typed.countReading)
  const entered = (): YarnEntered => (form.ok ? typedYarn(form.value) : form.entered)
  if (form.ok && problem === '') return { ok: true, value: { ...form.value, countReading: reading } }
  const problems = { ...(form.ok ? {} : form.problems) }
  if (problem !== '') problems[readings.length > 0 ? 'countReading' : 'count'] ??= problem
  return { ok: false, entered: entered(), problems, readings }
}

function readTyped(count: string, chosen: string): { problem: string; reading: string; readings: CountReading[] } {
  const said = (problem: string, reading = '', readings: readonly CountReading[] = []) => ({
    ...{ problem, reading, readings: [...readings] },
  })
  if (count === '') return said('')
  const read = readCount(count)
  if (read.ok) return said('')
  if ('message' in read) return said(read.message)
  const isOne = read.readings.some((reading) => readingKey(reading) === chosen)
  return isOne
    ? said('', chosen, read.readings)
    : said('This count can be read in several ways: which one is meant?', '', read.readings)
}

/** The readings to choose from of a count as typed; none where there is one, or none at all. */
export function listReadings(count: string): readonly CountReading[] {
  const read = count.trim() === '' ? undefined : readCount(count)
  return read && !read.ok && 'readings' in read ? read.readings : []
}

/** A yarn as it would be typed. */
export const typedYarn = (yarn: YarnForm): YarnEntered => ({
  ...{ name: yarn.name, blend: yarn.blend, count: yarn.count, countReading: yarn.countReading, build: yarn.build },
  ...{ wrapsPerCm: yarn.wrapsPerCm ?? '', diameterMm: yarn.diameterMm ?? '' },
  ...{ supplier: yarn.supplier, notes: yarn.notes },
})
