import { UNITS } from '../../shared/measure/unit.ts'
import type { ExchangeRecord, Measure } from './record.ts'
import { TERMS, termOfFeature, termOfFibre, type Term } from './term.ts'

type Json = Readonly<Record<string, unknown>>

const type = ({ id, label }: Term): Json => ({ id, type: 'Type', _label: label })

/** A record as Linked Art 1.0: an object, how it was made, and after what. */
export function toLinkedArt(record: ExchangeRecord): Json {
  const { uri, name, otherNames, inventoryNumber, noun, measures, materials, sources } = record
  const fibres = materials.flatMap(({ text }) => termOfFibre(text) ?? [])
  const statements = [
    ...materials.filter(({ text }) => !termOfFibre(text)).map(({ part, text }) => `${part}: ${text}`),
    ...sources.map(({ text }) => text),
  ]
  return {
    '@context': 'https://linked.art/ns/v1/linked-art.json',
    id: uri,
    type: 'HumanMadeObject',
    _label: name,
    classified_as: [type(TERMS.textiles), ...(noun === 'piece' ? [type(TERMS.replicas)] : [])],
    identified_by: [
      ...[name, ...otherNames].map((content) => ({ type: 'Name', content })),
      ...(inventoryNumber === '' ? [] : [{ type: 'Identifier', content: inventoryNumber }]),
    ],
    ...some('made_of', [...new Map(fibres.map((term) => [term.id, { ...type(term), type: 'Material' }])).values()]),
    ...some('dimension', measures.flatMap(dimensionOf)),
    ...some(
      'referred_to_by',
      statements.map((content) => ({ type: 'LinguisticObject', content })),
    ),
    produced_by: production(record),
  }
}

/** Value and unit are needed; a range with one end has neither a value nor a middle, and is left out. */
function dimensionOf({ feature, label, unit, value, low, high, text }: Measure): Json[] {
  const term = termOfFeature(feature)
  const middle = value ?? (low === undefined || high === undefined ? undefined : (low + high) / 2)
  if (!term || middle === undefined) return []
  const measuredIn =
    unit === 'mm'
      ? { ...type(TERMS.millimetres), type: 'MeasurementUnit' }
      : { type: 'MeasurementUnit', _label: unitName(unit) }
  return [
    {
      ...{ type: 'Dimension', _label: `${label}: ${text}`, classified_as: [type(term)], value: middle },
      ...(low === undefined ? {} : { lower_value_limit: low }),
      ...(high === undefined ? {} : { upper_value_limit: high }),
      unit: measuredIn,
    },
  ]
}
const unitName = (unit: Measure['unit']) => UNITS[unit].symbol || 'count'

function production({ made, maker, technique, replicaOf }: ExchangeRecord): Json {
  const isTabletWoven = technique.trim().toLowerCase() === 'tablet weaving'
  const begins = instant(made.earliest, '-01-01', 'T00:00:00Z')
  const ends = instant(made.latest, '-12-31', 'T23:59:59Z')
  const span = {
    ...{ type: 'TimeSpan', ...(made.phrase === '' ? {} : { identified_by: [{ type: 'Name', content: made.phrase }] }) },
    ...(begins === '' ? {} : { begin_of_the_begin: begins }),
    ...(ends === '' ? {} : { end_of_the_end: ends }),
  }
  return {
    type: 'Production',
    ...(made.phrase === '' ? {} : { timespan: span }),
    ...some('technique', isTabletWoven ? [type(TERMS.tabletWeaving)] : []),
    ...some('referred_to_by', maker === '' ? [] : [{ type: 'LinguisticObject', content: `Made by ${maker}` }]),
    ...some('influenced_by', replicaOf ? [{ id: replicaOf.uri, type: 'HumanMadeObject', _label: replicaOf.name }] : []),
  }
}

/** A year, or a day, as the instant that it begins or ends with. */
const instant = (text: string, day: string, time: string) =>
  text === '' ? '' : /^-?\d{4}$/.test(text) ? text + day + time : text + time

const some = (key: string, values: readonly unknown[]): Json => (values.length === 0 ? {} : { [key]: values })
