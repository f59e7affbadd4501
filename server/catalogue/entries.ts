import { sayWritten } from '../../shared/draft/convention/say.ts'
import { PIECE_STATUS_LABELS } from '../../shared/work/status.ts'
import { toDecimals } from '../../shared/measure/rounding.ts'
import { stripAddress } from '../draft-strip.ts'
import { toWritten } from '../draft/queries.ts'
import { toPhrase } from '../original/dating.ts'
import { hiddenName } from '../rights/allowed.ts'
import { SOURCE_KINDS } from '../source/form.ts'
import type { DraftEntry } from './drafts.ts'
import type { OriginalEntry } from './originals.ts'
import { fact, figure, type EntryView, type ListWords } from './pages.ts'
import type { PieceEntry } from './pieces.ts'
import type { SourceEntry } from './sources.ts'

export const ORIGINAL_WORDS: ListWords = {
  ...{ section: 'originals', title: 'Originals', one: 'original', many: 'originals', order: 'by name' },
  add: 'Record an original',
  goesHere: 'The historical textiles you study: who holds each one, and every measurement with where it comes from.',
  example: 'For instance: a narrow band in a county museum, 13 mm wide by its excavation report, p. 41.',
}

export function originalEntry(entry: OriginalEntry): EntryView {
  const { id, name, holder, inventoryNumber, dateEdtf, technique, claims, pieces } = entry
  return {
    ...{ path: `/originals/${id}`, title: name, picture: '', tick: '' },
    facts: [
      fact('Holder', [holder, inventoryNumber].filter(Boolean).join(', ')),
      fact('Date', toPhrase(dateEdtf)),
      fact('Technique', technique),
      figure('Claims', String(claims)),
      figure('Pieces', String(pieces)),
    ],
  }
}

export const PIECE_WORDS: ListWords = {
  ...{ section: 'pieces', title: 'Pieces', one: 'piece', many: 'pieces' },
  order: 'by name; hours are of all stages, breaks taken off',
  add: 'Record a piece',
  goesHere: 'Everything you weave: its yarns, its readings and its hours. An abandoned start is a piece too.',
  example: 'For instance: a second trial of the same band, in finer wool, 4.5 h so far in 3 sittings.',
}

export function pieceEntry(entry: PieceEntry): EntryView {
  const { id, name, maker, status, statusOn, originalId, originalName, minutes, sittings } = entry
  const hours = `${toDecimals(minutes / 60, 1)} h in ${sittings} ${sittings === 1 ? 'sitting' : 'sittings'}`
  return {
    ...{ path: `/pieces/${id}`, title: name, picture: '', tick: String(id) },
    facts: [
      fact('Status', PIECE_STATUS_LABELS[status]),
      figure('Since', statusOn ?? ''),
      fact('Maker', maker),
      originalFact(originalId, originalName),
      figure('Hours', sittings === 0 ? 'no sitting yet' : hours),
    ],
  }
}

function originalFact(id: number | null, name: string | null): EntryView['facts'][number] {
  if (id === null) return fact('Original', 'own design')
  return name === null ? fact('Original', hiddenName('original')) : fact('Original', name, `/originals/${id}`)
}

export const DRAFT_WORDS: ListWords = {
  ...{ section: 'drafts', title: 'Drafts', one: 'draft', many: 'drafts', order: 'by title' },
  add: 'Enter a draft',
  goesHere: 'Threading and turning of your bands, drawn as they weave. Saving a change keeps the earlier revision.',
  example: 'For instance: six tablets, threaded S Z S Z S Z, all forward: “6F” on every line.',
}

export function draftEntry(entry: DraftEntry): EntryView {
  const { id, title, tablets, picks, twistNeutral, convention, originalId, originalName, pieces } = entry
  return {
    ...{ path: `/drafts/${id}`, title, picture: stripAddress(entry), tick: '' },
    facts: [
      figure('Tablets', String(tablets)),
      figure('Picks in a repeat', String(picks)),
      fact('Twist', twistNeutral === 1 ? 'neutral' : 'builds up'),
      originalFact(originalId, originalName),
      figure('Pieces', String(pieces)),
      fact('Written down', sayWritten(toWritten(convention))),
    ],
  }
}

export const SOURCE_WORDS: ListWords = {
  ...{ section: 'sources', title: 'Sources', one: 'source', many: 'sources', order: 'by title' },
  add: 'Record a source',
  goesHere: 'Where your knowledge comes from: publications, photographs, letters, and visits to the object.',
  example: 'For instance: an excavation report of 1934, or what a curator wrote to you in a letter.',
}

export function sourceEntry({ id, title, people, year, kind, claims }: SourceEntry): EntryView {
  return {
    ...{ path: `/sources/${id}`, title, picture: '', tick: String(id) },
    facts: [
      fact('By', people),
      fact('Year', year),
      fact('Kind', SOURCE_KINDS[kind]),
      figure('Claims resting on it', String(claims)),
    ],
  }
}
