import type { MergedField } from '../../shared/edit/merge.ts'
import type { PageHead } from '../pages.ts'
import { labelOfField, type Edited } from './nouns.ts'

declare module '../pages.ts' {
  interface Pages {
    'conflict/show': ConflictPage
  }
}

interface ConflictPage extends PageHead {
  readonly action: string
  readonly back: string
  readonly saved: string
  readonly newVersion: number
  readonly fields: readonly {
    name: string
    id: string
    label: string
    value: string
    theirs: string
    rows: number
    isTaken: boolean
  }[]
  /** All else that the form held, to go along unseen. */
  readonly hidden: readonly { name: string; value: string }[]
  readonly yarns: readonly string[]
}

export interface Conflict {
  readonly noun: Edited
  /** Where its form goes. */
  readonly path: string
  readonly version: number
  readonly body: Readonly<Record<string, unknown>>
  readonly fields: readonly MergedField[]
  readonly yarns: readonly string[]
  readonly save: { readonly who: string; readonly at: string } | undefined
}

const SECTIONS: Readonly<Record<Edited, PageHead['section']>> = {
  ...{ source: 'sources', original: 'originals', draft: 'drafts', piece: 'pieces' },
  ...{ yarn: 'yarns', lot: 'yarns', fibre_density: 'yarns' },
  ...{
    sitting: 'pieces',
    quote: 'pieces',
    plan: 'pieces',
    judgement: 'pieces',
    decision: 'pieces',
    weighting: 'pieces',
  },
}

/** What is shown on the page of what it belongs to, so that its form is the way back. */
const HAS_NO_PAGE: ReadonlySet<Edited> = new Set(['sitting', 'fibre_density', 'judgement', 'decision'])

export function conflictPage({ noun, path, version, body, fields, yarns, save }: Conflict): ConflictPage {
  const shown = new Set([...fields.map(({ name }) => name), 'version'])
  const who = save?.who ? `${save.who} has` : 'Somebody has'
  return {
    title: 'Changed meanwhile',
    section: SECTIONS[noun],
    action: path,
    back: HAS_NO_PAGE.has(noun) ? `${path}/edit` : path,
    saved: `${who} saved another version while your form stood open${save ? `, at ${save.at.slice(11, 16)} UTC on ${save.at.slice(0, 10)}` : ''}. Nothing of yours is lost: it stands below.`,
    newVersion: version,
    fields: fields.map(({ name, value, theirs, outcome }) => ({
      name,
      id: `f-${name}`,
      label: labelOfField(name),
      value,
      theirs: theirs || '(empty)',
      rows: Math.min(
        16,
        Math.max(1, ...[value, theirs].map((text) => text.split('\n').length + Math.floor(text.length / 90))),
      ),
      isTaken: outcome === 'taken',
    })),
    hidden: Object.entries(body).flatMap(([name, value]) =>
      shown.has(name)
        ? []
        : [value].flat().flatMap((each) => (typeof each === 'string' ? [{ name, value: each }] : [])),
    ),
    yarns,
  }
}
