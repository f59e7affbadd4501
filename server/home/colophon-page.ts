import { resolve } from 'node:path'
import { CAUTIONS } from '../caution.ts'
import type { PageHead } from '../pages.ts'

declare module '../pages.ts' {
  interface Pages {
    'home/colophon': ColophonPage
  }
}

interface ColophonPage extends PageHead {
  /** The notebook's file; empty for one that lives in memory only. */
  readonly file: string
  readonly cautions: readonly { title: string; text: string; ask: string }[]
  readonly hasDemo: boolean
  /** Where the notebook lies, and the demo collection, are for who keeps it alone. */
  readonly keepsNotebook: boolean
}

export function colophonPage(file: string, hasDemo: boolean, keepsNotebook: boolean): ColophonPage {
  return {
    ...{ title: 'About, and handling with care', section: 'home', hasDemo, keepsNotebook },
    file: file === ':memory:' || !keepsNotebook ? '' : resolve(file),
    cautions: Object.values(CAUTIONS),
  }
}
