import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { canonicalJson } from '../../shared/archive/canonical.ts'
import { bringIn } from '../../server/archive/bring-in.ts'
import { gather } from '../../server/archive/gather.ts'
import { toJson } from '../../server/archive/notebook.ts'
import { unpackArchive } from '../../server/archive/unpack.ts'
import type { Db } from '../../server/db/open.ts'
import { demoDb } from '../support/demo.ts'
import { makeDataDir, migratedDb } from '../support/start.ts'
import { exportTo, importFrom, withPhotos } from './archive-file.ts'
import { arbitraryNotebook } from './generate.ts'

const words = (file: string) =>
  unpackArchive(file, makeDataDir()).then(({ notebook }) => canonicalJson(toJson(notebook)))

/** Emptied rather than made anew: making the structure takes longer than the whole trip. */
function empty(db: Db): void {
  // What was sent stays, but for the demo collection.
  db.raw.exec('update quote set demo = 1')
  for (const table of [
    ...['quote', 'quote_terms', 'forecast'],
    'judgement',
    'decision',
    'weighting',
    'observed',
    'photo',
    'sitting',
    'claim',
    'yarn',
    'piece',
    'draft',
    'original',
    'source',
    'feature',
    'fibre_density',
    'change',
  ])
    db.raw.exec(`delete from ${table}`)
}

describe('an archive that is written, brought into an empty notebook and written again', () => {
  test('is the same byte for byte, with the same photographs, for 200 generated notebooks', async () => {
    const [first, second] = [migratedDb(), migratedDb()]
    const [here, there] = [makeDataDir(), makeDataDir()]
    const seen = {
      photos: 0,
      claims: 0,
      sittings: 0,
      observed: 0,
      plans: 0,
      steps: 0,
      movements: 0,
      densities: 0,
      quotes: 0,
      forecasts: 0,
      terms: 0,
      ...{ judgements: 0, decisions: 0, weightings: 0 },
    }
    await fc.assert(
      fc.asyncProperty(arbitraryNotebook, async (generated) => {
        const made = withPhotos(generated)
        empty(first)
        empty(second)
        bringIn(first, made, new Map(), here)
        const written = canonicalJson(toJson(gather(first, { kind: 'notebook' }).notebook))
        expect(written).toBe(canonicalJson(toJson(made.notebook)))
        const file = await exportTo(first, here)
        const one = await unpackArchive(file, makeDataDir())
        bringIn(second, one, new Map(), there)
        const other = await unpackArchive(await exportTo(second, there), makeDataDir())
        expect(canonicalJson(toJson(other.notebook))).toBe(written)
        const hashes = ({ photos }: typeof made) =>
          [...photos].map(([uid, files]) => [uid, Object.entries(files).map(([name, { sha256 }]) => [name, sha256])])
        expect(hashes(other)).toEqual(hashes(one))
        expect(one.photos.size).toBe(made.notebook.records.photo.length)
        seen.photos += one.photos.size
        seen.claims += made.notebook.records.claim.length
        seen.observed += made.notebook.records.observed.length
        seen.movements += made.notebook.records.movement.length
        seen.densities += made.notebook.records.fibre_density.length
        seen.quotes += made.notebook.records.quote.length
        seen.forecasts += made.notebook.records.forecast.length
        seen.terms += made.notebook.records.quote_terms.length
        seen.judgements += made.notebook.records.judgement.length
        seen.decisions += made.notebook.records.decision.length
        seen.weightings += made.notebook.records.weighting.length
        seen.plans += made.notebook.records.plan.length
        seen.steps += made.notebook.records.loom_step.length
        seen.sittings += made.notebook.records.sitting.length
      }),
      { numRuns: 200, seed: 20261124 },
    )
    // A generator that makes hardly anything would prove hardly anything.
    expect(Math.min(...Object.values(seen))).toBeGreaterThan(60)
  }, 240_000)

  test('is the same for the demo collection', async () => {
    const db = demoDb()
    const file = await exportTo(db, makeDataDir())
    const second = migratedDb()
    const dataDir = makeDataDir()
    await importFrom(second, dataDir, file)
    expect(await words(await exportTo(second, dataDir))).toBe(await words(file))
  })
})
