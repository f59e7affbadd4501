import type { DocumentProblem } from '../../shared/draft/document.ts'
import type { PageHead } from '../pages.ts'

declare module '../pages.ts' {
  interface Pages {
    'draft/import': DraftImportPage
  }
}

interface DraftImportPage extends PageHead {
  readonly document: string
  readonly places: readonly { path: string; message: string }[]
  readonly problems: readonly { href: string; text: string }[]
}

export function draftImportPage(document = '', problems: readonly DocumentProblem[] = []): DraftImportPage {
  return {
    title: 'Import a draft',
    section: 'drafts',
    scripts: ['draft-import'],
    document,
    places: problems.map(({ path, message }) => ({ path, message })),
    problems: problems.map(({ path, message }) => ({
      href: '#f-document',
      text: path ? `${path}: ${message}` : message,
    })),
  }
}
