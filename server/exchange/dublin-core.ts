import type { ExchangeRecord } from './record.ts'
import { element, textElement } from './xml.ts'

/** A record as simple Dublin Core, in the wrapper of the Open Archives Initiative. */
export function toDublinCore(record: ExchangeRecord): string {
  const { uri, name, otherNames, inventoryNumber, maker, made, technique, measures, materials, replicaOf, sources } =
    record
  const all = (key: string, texts: readonly string[]) => texts.map((text) => textElement(`dc:${key}`, text))
  const body = [
    ...all('title', [name, ...otherNames]),
    ...all('creator', [maker]),
    ...all('type', ['PhysicalObject', record.noun === 'piece' ? 'replica' : '']),
    ...all('identifier', [uri, inventoryNumber]),
    ...all('date', [made.edtf]),
    ...all('subject', [technique]),
    ...all('coverage', [record.findPlace]),
    ...all('format', [
      ...measures.map(({ label, part, text }) => `${[label, part].filter(Boolean).join(', ')}: ${text}`),
      ...materials.map(({ part, text }) => [part, text].filter(Boolean).join(': ')),
    ]),
    ...all(
      'source',
      sources.map(({ text }) => text),
    ),
    ...all('relation', replicaOf ? [replicaOf.uri] : []),
    ...all('publisher', [record.holder]),
  ]
  const namespaces = {
    'xmlns:oai_dc': 'http://www.openarchives.org/OAI/2.0/oai_dc/',
    'xmlns:dc': 'http://purl.org/dc/elements/1.1/',
  }
  return `<?xml version="1.0" encoding="UTF-8"?>\n${element('oai_dc:dc', body, namespaces)}\n`
}
