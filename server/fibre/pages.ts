import { FIBRES } from '../../shared/yarn/fibre.ts'
import { dayInWords } from '../../shared/work/time-words.ts'
import { formFields, problemList, type FieldSpec, type FieldView } from '../field.ts'
import type { Problems } from '../form.ts'
import type { PageHead } from '../pages.ts'
import type { DensityEntered } from './form.ts'
import type { OwnDensity } from './queries.ts'

declare module '../pages.ts' {
  interface Pages {
    'fibre/list': FibreListPage
    'fibre/edit': FibreEditPage
  }
}

interface FibreListPage extends PageHead {
  readonly mayAdd: boolean
  readonly fibres: readonly {
    readonly label: string
    readonly builtIn: Valued | ''
    readonly own: (Valued & { readonly id: number }) | ''
    /** The form of an own value, with the fibre filled in. */
    readonly newPath: string
  }[]
}

interface Valued {
  readonly value: string
  readonly source: string
}

interface FibreEditPage extends PageHead {
  readonly lead: string
  readonly action: string
  readonly isKept: boolean
  readonly fields: Record<keyof DensityEntered, FieldView>
  readonly problems: readonly { href: string; text: string }[]
}

const SPECS: Record<keyof DensityEntered, FieldSpec> = {
  fibre: { label: 'Fibre', required: true, hint: 'As your yarns name it: wool, nettle, goat.', plain: true },
  low: { label: 'Density, g/cm³', required: true, inputmode: 'decimal', hint: 'Of the fibre itself, not of the yarn.' },
  high: {
    label: 'Up to, where it is a range',
    inputmode: 'decimal',
    hint: 'Then the middle counts, and figures say from where to where.',
  },
  source: { label: 'Where it is from', required: true, hint: 'A book with its page, or how you measured it.', rows: 2 },
  onDay: { label: 'Day on which you took it up', type: 'date', hint: 'Left empty, today.' },
}

export const BLANK_DENSITY: DensityEntered = { fibre: '', low: '', high: '', source: '', onDay: '' }

/** The built-in densities, and beside each the maker's own, which counts in its place. */
export function fibreListPage(own: readonly OwnDensity[], mayAdd: boolean, notice: string): FibreListPage {
  const kept = new Map(own.map((one) => [one.fibre, one]))
  const words = [...Object.keys(FIBRES), ...own.map(({ fibre }) => fibre).filter((word) => !FIBRES[word])]
  return {
    ...{ title: 'Densities of fibres', section: 'yarns', notice, mayAdd },
    fibres: words.map((word) => {
      const facts = Object.hasOwn(FIBRES, word) ? FIBRES[word] : undefined
      const mine = kept.get(word)
      return {
        label: facts?.label ?? word,
        builtIn: facts ? { value: String(facts.densityGPerCm3), source: facts.source } : '',
        own: mine
          ? {
              id: mine.id,
              value: mine.high === undefined ? mine.low : `${mine.low} to ${mine.high}`,
              source: `${mine.source}; ${dayInWords(mine.onDay)}`,
            }
          : '',
        newPath: `/yarns/fibres/new?${new URLSearchParams({ fibre: word }).toString()}`,
      }
    }),
  }
}

/** @param kept which one is changed; undefined for a new one */
export function fibreEditPage(
  kept: OwnDensity | undefined,
  entered: DensityEntered,
  { problems = {}, notice = '' }: { readonly problems?: Problems<DensityEntered>; readonly notice?: string } = {},
): FibreEditPage {
  const fields = formFields(SPECS, entered, problems)
  const facts = Object.hasOwn(FIBRES, entered.fibre) ? FIBRES[entered.fibre] : undefined
  return {
    title: kept ? `Density of ${kept.fibre}` : 'A density of your own',
    ...{ section: 'yarns', notice, fields },
    lead: facts
      ? `Built in: ${facts.label}, ${facts.densityGPerCm3} g/cm³ (${facts.source}). Yours counts in its place, wherever a diameter is worked out.`
      : 'It counts wherever a diameter is worked out, and each of these says so.',
    action: kept ? `/yarns/fibres/${kept.id}` : '/yarns/fibres',
    isKept: kept !== undefined,
    problems: problemList(fields),
  }
}
