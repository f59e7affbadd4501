import { createHash } from 'node:crypto'
import { readEntered } from '../form.ts'
import { FORMAT_KEYS, type Format } from '../source-export/write.ts'
import { decodeFile } from './decode.ts'

/** What is done with a source that is here already: nothing, what is blank here is filled in, or it is added beside. */
export const CHOICES = ['leave', 'fill', 'add'] as const
export type Choice = (typeof CHOICES)[number]

export interface ImportForm {
  readonly entered: Readonly<Record<'document' | 'format' | 'leaveOut', string>>
  readonly format: Format
  readonly isGuessed: boolean
  /** A mark of what was sent, so that only what was looked at is ever kept. */
  readonly mark: string
  readonly isLookedAt: boolean
  readonly keep: boolean
  choiceOf(number: number): Choice
  /** Numbers of the list that are not wanted. */
  readonly leftOut: ReadonlySet<number>
  readonly problems: Readonly<Partial<Record<'document' | 'leaveOut', string>>>
}

export function readImportForm(body: unknown, file: Uint8Array | undefined): ImportForm {
  const { looked, keep, ...typed } = readEntered(body, ['document', 'format', 'leaveOut', 'looked', 'keep'])
  const decoded = file && file.length > 0 ? decodeFile(file) : undefined
  const document = (decoded?.text ?? typed.document).replace(/^\uFEFF/, '')
  const format = FORMAT_KEYS.find((key) => key === typed.format) ?? guessFormat(document)
  const mark = createHash('sha256').update(`${format}\n${document.trim()}`).digest('hex').slice(0, 32)
  const leftOut = readNumbers(typed.leaveOut)
  return {
    entered: { ...typed, document },
    format,
    isGuessed: decoded?.isGuessed ?? false,
    mark,
    isLookedAt: looked === mark && decoded === undefined,
    keep: keep !== '',
    choiceOf: (number) => {
      const chosen = readEntered(body, [`same-${number}`])[`same-${number}`]
      return CHOICES.find((choice) => choice === chosen) ?? 'leave'
    },
    leftOut: leftOut ?? new Set(),
    problems: {
      ...(document.trim() === '' ? { document: 'Please choose a file, or paste what is in it.' } : {}),
      ...(leftOut ? {} : { leaveOut: 'Please give numbers of the list, such as 3, 7-9.' }),
    },
  }
}

/** By how it begins: a brace or bracket, a tag of RIS, else BibTeX. */
function guessFormat(text: string): Format {
  if (/^\s*[[{]/.test(text)) return 'csl'
  return /^\s?TY {1,2}-/m.test(text) ? 'ris' : 'bibtex'
}

function readNumbers(text: string): ReadonlySet<number> | undefined {
  const numbers = new Set<number>()
  for (const part of text.split(/[\s,;]+/).filter((each) => each !== '')) {
    const span = /^(\d{1,4})(?:[-–](\d{1,4}))?$/.exec(part)
    if (!span) return undefined
    for (let number = Number(span[1]); number <= Number(span[2] ?? span[1]); number += 1) numbers.add(number)
  }
  return numbers
}
