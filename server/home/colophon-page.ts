import { resolve } from 'node:path'
import { CAUTIONS } from '../caution.ts'
import { type Look, LOOKS } from '../look/look.ts'
import type { PageHead } from '../pages.ts'
import { currentShell } from '../shell.ts'

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
  readonly looks: readonly { key: Look; label: string; isChosen: boolean }[]
}

const LOOK_LABELS: Readonly<Record<Look, string>> = { device: 'As the device says', light: 'Light', dark: 'Dark' }

export function colophonPage(file: string, hasDemo: boolean, keepsNotebook: boolean): ColophonPage {
  return {
    ...{ title: 'About, and handling with care', section: 'home', hasDemo, keepsNotebook },
    file: file === ':memory:' || !keepsNotebook ? '' : resolve(file),
    cautions: Object.values(CAUTIONS),
    looks: LOOKS.map((key) => ({ key, label: LOOK_LABELS[key], isChosen: key === (currentShell().look ?? 'device') })),
  }
}
