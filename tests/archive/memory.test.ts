import { expect, test } from 'vitest'
import { send, startServer } from '../support/server.ts'
import { sha256 } from './archive-file.ts'
import { rawZip } from './raw-zip.ts'

const AT = '2026-01-01T00:00:00.000Z'

/** An archive of so many letters, each of some 300 bytes: small records take the most memory for their size. */
function archiveOf(letters: number): FormData {
  const sources = Array.from({ length: letters }, (_, at) => ({
    ...{ uid: at.toString(16).padStart(32, '0'), title: `Letter ${at}`, people: '', kind: 'letter', year: '' },
    ...{ pages: '', container: '', doi: '', isbn: '', url: '', notes: '', demo: false, visibility: 'private' },
    ...{ deletedAt: null, createdAt: AT, updatedAt: AT },
  }))
  return toArchive(sources)
}

function toArchive(sources: readonly object[]): FormData {
  const lists = { originals: [], drafts: [], pieces: [], claims: [], sittings: [], photographs: [] }
  const words = Buffer.from(JSON.stringify({ format: 'fellmark-archive', version: 1, features: [], sources, ...lists }))
  const manifest = JSON.stringify({ files: { 'notebook.json': { sha256: sha256(words), bytes: words.length } } })
  const zip = rawZip([
    { name: 'notebook.json', content: words },
    { name: 'manifest.json', content: manifest },
  ])
  const form = new FormData()
  form.set('archive', new Blob([new Uint8Array(zip)]), 'archive.zip')
  return form
}

test('POST /import on a machine with little memory takes what fits, to the last tenth, refuses the rest, and goes on', async () => {
  const server = await startServer({ flags: ['--max-old-space-size=64'] })
  const tooLarge = await send(server, '/import', archiveOf(40_000))
  const [said, holds, most] = /holds (\d+\.\d) MB of words, and the program has the memory for (\d+\.\d) MB/.exec(
    await tooLarge.text(),
  ) ?? ['nothing']
  expect([tooLarge.status, said]).toEqual([413, expect.stringContaining('MB')])
  const letters = Math.floor(((40_000 * Number(most)) / Number(holds)) * 0.9)
  const text = await (await send(server, '/import', archiveOf(letters))).text()
  const [, path = text] = /action="(\/import\/[0-9a-f]{32})"/.exec(text) ?? []
  expect((await send(server, path)).status).toBe(200)
  expect(await (await fetch(`${server.url}sources/${letters}`)).text()).toContain(`Letter ${letters - 1}`)
  // Of 190,000 records with nothing in them the first few problems are said, and not millions gathered.
  const empty = await send(server, '/import', toArchive(Array.from({ length: 190_000 }, () => ({}))))
  expect([empty.status, await empty.text()]).toEqual([422, expect.stringContaining('sources[0].uid: ')])
  await server.stop()
}, 120_000)
