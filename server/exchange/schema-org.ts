import type { ExchangeRecord, Measure } from './record.ts'

/** Codes of UN/CEFACT Recommendation 20. */
const MILLIMETRE = 'MMT'

/** A record as schema.org has it, in JSON-LD. Thread counts have no place in a VisualArtwork and stay out. */
export function toSchemaOrg(record: ExchangeRecord): Readonly<Record<string, unknown>> {
  const { uri, name, otherNames, inventoryNumber, measures, materials, maker, made, replicaOf, sources, photos } =
    record
  const length = (key: string) => {
    const measure = measures.find(({ feature }) => feature === key)
    return measure ? quantity(measure) : undefined
  }
  const said: Readonly<Record<string, unknown>> = {
    alternateName: otherNames,
    identifier: inventoryNumber,
    material: materials.map(({ text }) => text),
    creator: maker === '' ? '' : { '@type': 'Person', name: maker },
    // EDTF is no date of schema.org: the words are.
    temporal: made.phrase,
    dateCreated: /^\d{4}-\d{2}-\d{2}$/.test(made.latest) ? made.latest : '',
    isBasedOn: replicaOf ? { '@type': 'VisualArtwork', '@id': replicaOf.uri, name: replicaOf.name } : '',
    width: length('width'),
    depth: length('thickness'),
    citation: sources.map(({ text }) => text),
    image: photos.map(({ file, caption, credit, licence }) => ({
      ...{ '@type': 'ImageObject', contentUrl: file, license: licence },
      ...(caption === '' ? {} : { caption }),
      ...(credit === '' ? {} : { creditText: credit }),
    })),
  }
  const told = Object.entries(said).filter(
    ([, value]) => value !== undefined && value !== '' && !(Array.isArray(value) && value.length === 0),
  )
  return {
    ...{ '@context': 'https://schema.org', '@type': 'VisualArtwork', '@id': uri, url: uri, name, artform: 'Textile' },
    ...Object.fromEntries(told),
  }
}

function quantity({ value, low, high, unit }: Measure): Readonly<Record<string, unknown>> | undefined {
  if (unit !== 'mm') return undefined
  return {
    ...{ '@type': 'QuantitativeValue', unitCode: MILLIMETRE },
    ...(value === undefined ? {} : { value }),
    ...(low === undefined ? {} : { minValue: low }),
    ...(high === undefined ? {} : { maxValue: high }),
  }
}
