import type { Kind, Reason, Staying } from '../demo/staying.ts'
import type { PageHead } from '../pages.ts'

declare module '../pages.ts' {
  interface Pages {
    'home/demo-remove': DemoRemovePage
  }
}

interface DemoRemovePage extends PageHead {
  /** `4 originals, 7 pieces`; empty when nothing goes. */
  readonly goes: string
  readonly stays: readonly {
    readonly kind: string
    readonly name: string
    readonly path: string
    readonly because: readonly ReasonView[]
  }[]
}

/** Words before the link, the link, words behind it; path and name are empty where the words say it all. */
interface ReasonView {
  readonly before: string
  readonly name: string
  readonly path: string
  readonly after: string
}

const PLURALS: Record<Kind, string> = {
  ...{ piece: 'pieces', draft: 'drafts', original: 'originals', source: 'sources', yarn: 'yarns' },
}

/** What goes and what stays, before anything does. */
export function demoRemovePage(counts: Readonly<Record<Kind, number>>, staying: readonly Staying[]): DemoRemovePage {
  const goes = (['original', 'draft', 'piece', 'source'] as const).flatMap((kind) => {
    const number = counts[kind] - staying.filter((each) => each.kind === kind).length
    return number === 0 ? [] : [`${number} ${number === 1 ? kind : PLURALS[kind]}`]
  })
  return {
    ...{ title: 'Take the demo collection out', section: 'home', goes: goes.join(', ') },
    stays: staying.map(({ kind, id, name, because }) => ({
      ...{ kind, name, path: pathOf(kind, id) },
      because: because.map(toReasonView),
    })),
  }
}

const pathOf = (kind: Kind, id: number) => `/${PLURALS[kind]}/${id}`

function toReasonView(reason: Reason): ReasonView {
  if ('words' in reason) return { before: reason.words, name: '', path: '', after: '' }
  const { kind, id, name, does } = reason
  return { before: `the ${kind} `, name, path: pathOf(kind, id), after: ` ${does}` }
}
