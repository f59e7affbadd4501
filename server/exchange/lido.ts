import { UNITS } from '../../shared/measure/unit.ts'
import type { ExchangePhoto, ExchangeRecord, Measure } from './record.ts'
import { TERMS, termOfFeature, termOfFibre, type Term } from './term.ts'
import { element, textElement } from './xml.ts'

/** Terms of the LIDO terminology, each looked up. A relation "is replica of" it has none; CIDOC CRM has P130. */
const LIDO = 'http://terminology.lido-schema.org/'
const RECORD = { id: `${LIDO}lido00141`, label: 'item-level record' }
const PRODUCTION = { id: `${LIDO}lido00007`, label: 'Production' }
const SHOWS_FEATURES_OF = { id: 'http://www.cidoc-crm.org/cidoc-crm/P130_shows_features_of', label: 'is replica of' }
const IDENTIFIER_URI = `${LIDO}lido00099`
const LOCAL_IDENTIFIER = `${LIDO}lido00100`
const INVENTORY_NUMBER = `${LIDO}lido00113`

const english = { 'xml:lang': 'en' }
const uriId = (name: string, uri: string) => textElement(name, uri, { 'lido:type': IDENTIFIER_URI })

/** A concept with its identifier where the vocabulary has one, else its words alone. */
const concept = (name: string, label: string, term?: Term) =>
  label === '' && !term
    ? ''
    : element(name, [
        term ? uriId('lido:conceptID', term.id) : '',
        textElement('lido:term', label || (term?.label ?? ''), english),
      ])

/** A record as LIDO 1.1. */
export function toLido(record: ExchangeRecord): string {
  const head = {
    'xmlns:lido': 'http://www.lido-schema.org',
    'xmlns:xsi': 'http://www.w3.org/2001/XMLSchema-instance',
    'xsi:schemaLocation': 'http://www.lido-schema.org http://lido-schema.org/schema/v1.1/lido-v1.1.xsd',
  }
  const body = [
    textElement('lido:lidoRecID', record.uri, { 'lido:type': IDENTIFIER_URI }),
    element('lido:descriptiveMetadata', describe(record), english),
    element('lido:administrativeMetadata', administer(record), english),
  ]
  return `<?xml version="1.0" encoding="UTF-8"?>\n${element('lido:lido', body, head)}\n`
}

function describe(record: ExchangeRecord): string[] {
  const { noun, name, otherNames, holder, inventoryNumber, measures, replicaOf, sources } = record
  const isReplica = noun === 'piece'
  const work = isReplica ? concept('lido:objectWorkType', 'replica', TERMS.replicas) : ''
  const appellation = (text: string, preferred: boolean) =>
    element('lido:titleSet', textElement('lido:appellationValue', text, english), {
      ...(preferred ? { 'lido:type': 'preferred' } : {}),
    })
  return [
    element(
      'lido:objectClassificationWrap',
      element('lido:objectWorkTypeWrap', [work, concept('lido:objectWorkType', 'textile', TERMS.textiles)]),
    ),
    element('lido:objectIdentificationWrap', [
      element('lido:titleWrap', [appellation(name, true), ...otherNames.map((each) => appellation(each, false))]),
      element(
        'lido:repositoryWrap',
        element('lido:repositorySet', [
          element('lido:repositoryName', element('lido:legalBodyName', textElement('lido:appellationValue', holder))),
          textElement('lido:workID', inventoryNumber, { 'lido:type': INVENTORY_NUMBER }),
        ]),
      ),
      element('lido:objectMeasurementsWrap', measures.flatMap(measureOf)),
    ]),
    element('lido:eventWrap', element('lido:eventSet', element('lido:event', production(record)))),
    element(
      'lido:objectRelationWrap',
      element('lido:relatedWorksWrap', [
        replicaOf
          ? element('lido:relatedWorkSet', [
              element('lido:relatedWork', [
                textElement('lido:displayObject', replicaOf.name),
                element('lido:object', uriId('lido:objectID', replicaOf.uri)),
              ]),
              concept('lido:relatedWorkRelType', SHOWS_FEATURES_OF.label, SHOWS_FEATURES_OF),
            ])
          : '',
        ...sources.map(({ text, uri }) =>
          element(
            'lido:relatedWorkSet',
            element('lido:relatedWork', [
              textElement('lido:displayObject', text),
              element('lido:object', uriId('lido:objectID', uri)),
            ]),
          ),
        ),
      ]),
    ),
  ]
}

/** A set each for a value, or for the ends of a range; the words of the page stand beside the first. */
function measureOf({ feature, label, part, unit, value, low, high, text }: Measure): string[] {
  const ends = [
    [value, ''],
    [low, 'at least'],
    [high, 'at most'],
  ] as const
  return ends
    .filter(([number]) => number !== undefined)
    .map(([number, qualifier], at) =>
      element('lido:objectMeasurementsSet', [
        at === 0
          ? textElement('lido:displayObjectMeasurements', `${[label, part].filter(Boolean).join(', ')}: ${text}`)
          : '',
        element('lido:objectMeasurements', [
          element('lido:measurementsSet', [
            concept('lido:measurementType', label, termOfFeature(feature)),
            concept(
              'lido:measurementUnit',
              UNITS[unit].symbol || 'count',
              unit === 'mm' ? TERMS.millimetres : undefined,
            ),
            textElement('lido:measurementValue', String(number)),
          ]),
          textElement('lido:qualifierMeasurements', qualifier),
        ]),
      ]),
    )
}

function production({ made, maker, findPlace, technique, materials, replicaOf }: ExchangeRecord): string[] {
  const isTabletWoven = technique.trim().toLowerCase() === 'tablet weaving'
  return [
    concept('lido:eventType', PRODUCTION.label, PRODUCTION),
    element(
      'lido:eventActor',
      element(
        'lido:actorInRole',
        element('lido:actor', element('lido:nameActorSet', textElement('lido:appellationValue', maker))),
      ),
    ),
    made.phrase === ''
      ? ''
      : element('lido:eventDate', [
          textElement('lido:displayDate', `${made.phrase} (EDTF ${made.edtf})`),
          element('lido:date', [
            textElement('lido:earliestDate', made.earliest),
            textElement('lido:latestDate', made.latest),
          ]),
        ]),
    element(
      'lido:eventMaterialsTech',
      element('lido:materialsTech', [
        concept('lido:termMaterialsTech', technique, isTabletWoven ? TERMS.tabletWeaving : undefined),
        ...materials.map(({ text }) => concept('lido:termMaterialsTech', text, termOfFibre(text))),
      ]),
    ),
    element(
      'lido:thingPresent',
      replicaOf
        ? [
            textElement('lido:displayObject', replicaOf.name),
            element('lido:object', uriId('lido:objectID', replicaOf.uri)),
          ]
        : '',
    ),
    findPlace === ''
      ? ''
      : element('lido:eventDescriptionSet', textElement('lido:descriptiveNoteValue', `Found: ${findPlace}`)),
  ]
}

function administer({ noun, id, uri, recordSource, photos }: ExchangeRecord): string[] {
  return [
    element('lido:recordWrap', [
      textElement('lido:recordID', `${noun}-${id}`, { 'lido:type': LOCAL_IDENTIFIER }),
      concept('lido:recordType', RECORD.label, RECORD),
      element('lido:recordSource', element('lido:legalBodyName', textElement('lido:appellationValue', recordSource))),
      element('lido:recordInfoSet', textElement('lido:recordInfoLink', uri)),
    ]),
    element('lido:resourceWrap', photos.map(resourceOf)),
  ]
}

function resourceOf({ id, file, caption, credit, licence }: ExchangePhoto): string {
  return element('lido:resourceSet', [
    textElement('lido:resourceID', `photo-${id}`, { 'lido:type': LOCAL_IDENTIFIER }),
    element('lido:resourceRepresentation', textElement('lido:linkResource', file)),
    textElement('lido:resourceDescription', caption),
    element('lido:rightsResource', [
      element('lido:rightsType', uriId('lido:conceptID', licence)),
      textElement('lido:creditLine', credit),
    ]),
  ])
}
