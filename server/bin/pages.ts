import { dayInWords } from '../../shared/work/time-words.ts'
import type { PageHead } from '../pages.ts'
import { BIN_DAYS, type BinEntry, type Binned } from './queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'bin/show': BinPage
  }
}

interface BinPage extends PageHead {
  readonly days: number
  readonly entries: readonly { kind: string; name: string; when: string; left: string; path: string }[]
}

const KINDS: Readonly<Record<Binned, string>> = {
  ...{
    source: 'Source',
    original: 'Original',
    draft: 'Draft',
    piece: 'Piece',
    sitting: 'Sitting',
    photo: 'Photograph',
    observed: 'Observed face',
    yarn: 'Yarn',
    lot: 'Lot',
    quote: 'Quote',
    judgement: 'Judgement',
    decision: 'Decision',
    weighting: 'Weights',
  },
}

export function binPage(entries: readonly BinEntry[], now: Date, notice: string): BinPage {
  return {
    title: 'Bin',
    section: 'home',
    notice,
    days: BIN_DAYS,
    entries: entries.map(({ kind, id, name, deletedAt }) => {
      const left = Math.max(0, BIN_DAYS - Math.floor((now.getTime() - Date.parse(deletedAt)) / 86_400_000))
      return {
        kind: KINDS[kind],
        name,
        when: dayInWords(deletedAt.slice(0, 10)),
        left: left === 1 ? '1 day' : `${left} days`,
        path: `/bin/${kind}/${id}`,
      }
    }),
  }
}
