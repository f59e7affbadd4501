import type { Json } from '../../shared/archive/canonical.ts'
import { licenceOf } from '../photo/licence.ts'
import type { Notebook } from './notebook.ts'

export interface ArchiveFile {
  readonly path: string
  readonly about: string
  readonly type: string
  /** Address of the terms, and whom to name; empty where nothing is stated. */
  readonly licence?: string
  readonly credit?: string
}

const RIGHTS = '#rights'

/**
 * The description of the archive for machines, flat JSON-LD.
 * Source: RO-Crate 1.1, "Root Data Entity" and "Data Entities": descriptor, root with name, description, datePublished
 * and license, files with a name and an encodingFormat.
 */
export function toCrate(name: string, files: readonly ArchiveFile[], today: string): Json {
  const rights = {
    '@id': RIGHTS,
    '@type': 'CreativeWork',
    name: 'No licence is given for the whole: all rights stay with whoever made each part. Photographs say their own.',
  }
  const root = {
    ...{ '@id': './', '@type': 'Dataset', name, datePublished: today, license: { '@id': RIGHTS } },
    description: 'Originals, claims, drafts, pieces, sittings and sources of a reconstruction notebook, by Fellmark.',
    hasPart: files.map(({ path }) => ({ '@id': path })),
  }
  const descriptor = {
    ...{ '@id': 'ro-crate-metadata.json', '@type': 'CreativeWork', about: { '@id': './' } },
    conformsTo: { '@id': 'https://w3id.org/ro/crate/1.1' },
  }
  const entities = files.map(({ path, about, type, licence = '', credit = '' }) => {
    const { url } = licenceOf(licence)
    return {
      ...{ '@id': path, '@type': 'File', name: about || path, encodingFormat: type },
      ...(url ? { license: { '@id': url } } : {}),
      ...(credit ? { creditText: credit } : {}),
    }
  })
  return { '@context': 'https://w3id.org/ro/crate/1.1/context', '@graph': [descriptor, root, rights, ...entities] }
}

/** For whoever unpacks it in twenty years. */
export function toReadme(name: string, { records }: Notebook, today: string): string {
  return `${name}
written on ${today} by Fellmark, a reconstruction notebook for historical textiles

It holds ${records.original.length} originals, ${records.claim.length} claims, ${records.draft.length} drafts, ${records.piece.length} pieces, ${records.sitting.length} sittings,
${records.source.length} sources and ${records.photo.length} photographs.

notebook.json           everything in words and figures, without loss. Records are named by their uid, a name that
                        is the same in every notebook, and point at each other by it. Decimals are text, so that
                        13.0 stays 13.0. Format "fellmark-archive", version 1.
csv/                    the same as tables for a spreadsheet, to look at. Text that a spreadsheet would take for a
                        formula has an apostrophe before it. They are not read back.
drafts/                 each revision of each draft as a document of its own: uid of the draft, number.
photographs/            a folder each, by uid: JPEG by width in pixels, and the file as it was sent where it was
                        the writer's own. Captions, credit and licence stand in notebook.json.
ro-crate-metadata.json  what is in here, for machines (RO-Crate 1.1, https://w3id.org/ro/crate/1.1).
manifest.json           size and SHA-256 of every file above.

What an archive never holds: passwords, sessions, tokens, links, who the members are, and the log of changes. For whom
a piece is stands only in what its owner exports. To bring it into a notebook: the page /import, or
npm run admin -- import FILE.
`
}
