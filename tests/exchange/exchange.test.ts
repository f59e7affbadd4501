import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { Ajv } from 'ajv'
import { Ajv2020 } from 'ajv/dist/2020.js'
import { XmlDocument, XsdValidator } from 'libxml2-wasm'
import { xmlRegisterFsInputProviders } from 'libxml2-wasm/lib/nodejs.mjs'
import { describe, expect, test } from 'vitest'
import { makePhoto } from '../rights/things.ts'
import { makeClaim, makeOriginal, makeSource } from '../support/make.ts'
import { makePiece } from '../support/rows.ts'
import { makePeople } from '../support/people.ts'
import { makeDataDir, migratedDb, startApp } from '../support/start.ts'

// The schemas are others' and lie beside the project; where they are missing the tests are skipped by name, but never in CI.
const SCHEMAS = fileURLToPath(new URL('../../../shared/schemas', import.meta.url))
const canSkip = !existsSync(SCHEMAS) && process.env.CI === undefined
const schemaAt = (path: string) => JSON.parse(readFileSync(`${SCHEMAS}/${path}`, 'utf8')) as object

const SECRET = 'quillwort'

/** An original with all that is handed over, a piece woven from it, and what nobody is told in every private field. */
function makeRecords() {
  const db = migratedDb()
  const people = makePeople(db)
  const original = makeOriginal(db, {
    ...{
      name: 'Fen <band> & "fret"',
      otherNames: 'Band of the fen\nGirdle',
      holder: 'Marsh Museum',
      inventoryNumber: 'M 12',
    },
    ...{ findPlace: 'Fen', technique: 'tablet weaving', notes: `${SECRET} own notes` },
  })
  db.raw
    .prepare("update original set date_edtf = '-0459~/-0439~', earliest_year = -459, latest_year = -439 where id = ?")
    .run(original)
  const source = makeSource(db, { title: 'Bands of the Fen', notes: SECRET })
  const hidden = makeSource(db, { title: `${SECRET} papers`, people: SECRET })
  const about = { originalId: original }
  makeClaim(db, about, { value: '13.0', sourceId: source, locator: 'p. 41' })
  makeClaim(db, about, {
    feature: 'thickness',
    kind: 'range',
    low: '0.8',
    high: '1.1',
    sourceId: hidden,
    locator: SECRET,
  })
  makeClaim(db, about, { feature: 'picksPerCm', unit: 'perCm', kind: 'range', low: '7', high: undefined })
  makeClaim(db, about, { feature: 'warpFibre', part: 'pattern warp', kind: 'text', words: 'wool', unit: '' })
  makeClaim(db, about, { feature: 'warpFibre', part: 'border', kind: 'text', words: 'flax, perhaps', unit: '' })
  makeClaim(db, about, { feature: 'length', value: '9', reason: SECRET })
  makePhoto(db, {
    original_id: original,
    caption: 'Face',
    credit: 'R. Oss',
    licence: 'CC-BY-4.0',
    width: 1200,
    height: 800,
  })
  makePhoto(db, { original_id: original, caption: SECRET, licence: '' })
  makePhoto(db, { original_id: original, caption: SECRET, licence: 'http://rightsstatements.org/vocab/CNE/1.0/' })
  const piece = makePiece(db, {
    ...{
      name: 'First trial',
      maker: 'Ada Visser',
      for_whom: SECRET,
      notes: SECRET,
      went_wrong: SECRET,
      original_id: original,
    },
    ...{ on_loom_on: '2026-03-01', woven_on: '2026-03-14', finished_on: '2026-03-20' },
  })
  makeClaim(db, { pieceId: piece }, { value: undefined, kind: 'readings', readings: '13.5 13 13.2', basis: 'seen' })
  for (const table of ['original', 'piece', 'source'])
    db.raw.prepare(`update ${table} set visibility = 'published', owner_id = ?`).run(people.owner.id)
  db.raw.prepare("update source set visibility = 'private' where id = ?").run(hidden)
  const { get } = startApp(db, makeDataDir(), people.anonymous)
  const read = async (path: string) => {
    const answer = await get(path)
      .buffer(true)
      .parse((res, done) => {
        const parts: Buffer[] = []
        res.on('data', (part: Buffer) => parts.push(part))
        res.on('end', () => done(null, Buffer.concat(parts).toString()))
      })
    expect(answer.status).toBe(200)
    return answer.body as string
  }
  return { read, get, paths: [`/originals/${original}`, `/pieces/${piece}`] as const }
}

const { read, get, paths } = makeRecords()
const [ORIGINAL, PIECE] = paths
const FILES = ['lido.xml', 'dublin-core.xml', 'linked-art.json', 'schema-org.json', 'manifest.json']

describe.each(paths)('%s for museums and libraries', (path) => {
  test.each(FILES)('%s tells what is published, and nothing that is private', async (file) => {
    const text = await read(`${path}/${file}`)
    expect(text).not.toContain(SECRET)
    expect(text).not.toContain('<band>')
  })

  test.skipIf(canSkip)(
    'LIDO is valid by the published XSD of LIDO 1.1',
    async () => {
      xmlRegisterFsInputProviders()
      const validator = XsdValidator.fromDoc(
        XmlDocument.fromBuffer(readFileSync(`${SCHEMAS}/lido/lido-v1.1.xsd`), { url: `${SCHEMAS}/lido/lido-v1.1.xsd` }),
      )
      const lido = await read(`${path}/lido.xml`)
      expect(() => validator.validate(XmlDocument.fromString(lido))).not.toThrow()
      expect(() =>
        validator.validate(
          XmlDocument.fromString(
            lido.replace('lido:eventType>', 'lido:eventKind>').replace('</lido:eventType>', '</lido:eventKind>'),
          ),
        ),
      ).toThrow()
    },
    60_000,
  )

  test.skipIf(canSkip)('Linked Art is valid by its published JSON Schemas', async () => {
    // Dates before the common era fail where `date-time` is enforced, so formats are not.
    const ajv = new Ajv2020({ strict: false, validateFormats: false, allErrors: true })
    for (const file of readdirSync(`${SCHEMAS}/linked-art`).filter((name) => name !== 'linked-art-context.json'))
      ajv.addSchema(schemaAt(`linked-art/${file}`), file)
    const validate = ajv.getSchema('object.json')
    const record = JSON.parse(await read(`${path}/linked-art.json`)) as object
    expect([validate?.(record), validate?.errors]).toEqual([true, null])
    expect(validate?.({ ...record, width: 13 })).toBe(false)
  })

  test.skipIf(canSkip)('the manifest is valid by the published schema of IIIF Presentation 3', async () => {
    const validate = new Ajv({ strict: false, allErrors: true, validateFormats: false }).compile(
      schemaAt('iiif/iiif_3_0.json'),
    )
    const manifest = JSON.parse(await read(`${path}/manifest.json`)) as { items: unknown[] }
    if (manifest.items.length > 0) expect([validate(manifest), validate.errors]).toEqual([true, null])
    expect(validate({ ...manifest, type: 'Nonsense' })).toBe(false)
  })

  test('Dublin Core is well-formed, with the fifteen elements alone', async () => {
    const text = await read(`${path}/dublin-core.xml`)
    const names = XmlDocument.fromString(text)
      .find('/*/*')
      .map((node) => ('name' in node ? String(node.name) : ''))
    const fifteen = [
      ...['title', 'creator', 'subject', 'description', 'publisher', 'contributor', 'date', 'type', 'format'],
      ...['identifier', 'source', 'language', 'relation', 'coverage', 'rights'],
    ]
    expect(names.filter((name) => !fifteen.includes(name))).toEqual([])
  })
})

test('figures, dates, terms and rights stand in them as the page has them', async () => {
  const lido = await read(`${ORIGINAL}/lido.xml`)
  for (const text of [
    ...['<lido:measurementValue>13</lido:measurementValue>', 'http://vocab.getty.edu/aat/300055647', 'at least'],
    ...[
      '<lido:earliestDate>-0459</lido:earliestDate>',
      '<lido:latestDate>-0439</lido:latestDate>',
      'EDTF -0459~/-0439~',
    ],
    ...['http://vocab.getty.edu/aat/300014074', 'flax, perhaps', 'Fen &lt;band&gt; &amp; &quot;fret&quot;'],
    'https://creativecommons.org/licenses/by/4.0/',
  ])
    expect(lido).toContain(text)
  // Of "flax, perhaps" nobody says that it is flax.
  expect(lido).not.toContain('300014041')
  const linked = JSON.parse(await read(`${PIECE}/linked-art.json`)) as {
    dimension: { value: number; unit: { id: string } }[]
    produced_by: { influenced_by: { id: string }[]; timespan: Record<string, string> }
  }
  expect(linked.dimension[0]?.value).toBeCloseTo((13.5 + 13 + 13.2) / 3, 12)
  expect(linked.produced_by.influenced_by[0]?.id).toMatch(/\/originals\/1$/)
  expect(linked.produced_by.timespan.begin_of_the_begin).toBe('2026-03-01T00:00:00Z')
  const schema = JSON.parse(await read(`${PIECE}/schema-org.json`)) as { isBasedOn: object; width: object }
  expect(schema.isBasedOn).toMatchObject({ '@type': 'VisualArtwork' })
  expect(schema.width).toMatchObject({ unitCode: 'MMT' })
  const manifest = JSON.parse(await read(`${ORIGINAL}/manifest.json`)) as { items: { rights: string; width: number }[] }
  expect(manifest.items.map(({ rights, width }) => [rights, width])).toEqual([
    ['http://creativecommons.org/licenses/by/4.0/', 1200],
  ])
})

test('nothing is handed over of what is not there', async () => {
  expect((await get('/originals/99/lido.xml')).status).toBe(303)
})
