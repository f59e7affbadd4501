import sharp from 'sharp'
import { PLAN_FIELDS } from '../../../shared/plan/entry.ts'
import { insertInvite } from '../../../server/member/link-queries.ts'
import { SIZES } from '../../../server/photo/size.ts'
import { makeJpeg } from '../../photo/send.ts'
import { makeOriginal, makePiece } from '../../support/rows.ts'
import { NOW } from '../../support/start.ts'
import type { Fill, Keep } from './scene.ts'
import type { Target } from './target.ts'

/** What shows everything again that was sent to it, however long. */
export async function sendWrong(target: Target, fill: Fill, keep: Keep, texts: readonly string[]): Promise<void> {
  const invite = insertInvite(target.db, 'member', NOW)
  const joining = { password: 'short' }
  for (const text of texts) {
    const post = async (path: string, as: string, fields: Record<string, string>) =>
      keep(
        `POST ${path.replace(invite, ':token')}, shown again`,
        await target.send(path, as, new URLSearchParams(fields)),
      )
    await fill(`/invite/${invite}`, `/invite/${invite}`, ['x'], joining, {
      as: 'anonymous',
      expected: 422,
      wrong: text,
    })
    await post('/sign-in', 'anonymous', { signInName: text, password: text, next: text })
    await post('/originals', 'anonymous', { name: text, notes: text, [text]: text })
    await post('/drafts/import', 'owner', { document: text })
    const asked = [
      'title',
      'colours',
      'weft',
      'threading',
      'observed',
      'slant',
      'closes',
      'longestFloat',
      'notes',
      'original',
    ]
    await post('/drafts/infer', 'owner', Object.fromEntries(asked.map((name) => [name, text])))
    await post('/drafts/infer/keep', 'owner', { document: text, notes: text, original: text })
    await post('/features', 'owner', { label: text, kind: text, original: '' })
    await post('/account', 'owner', { name: text })
    await post('/account/tokens', 'owner', { name: text, scope: text, days: text })
    await post('/members/2/role', 'keeper', { role: text })
    await post('/pieces/1/share', 'owner', { visibility: text, grounds: text })
    const planned = Object.fromEntries([...PLAN_FIELDS, 'warp-m-count', 'weft-count'].map((name) => [name, text]))
    await post('/pieces/1/plan', 'owner', planned)
    keep('GET /pieces/:id/plan?…', await target.send(`/pieces/1/plan?${new URLSearchParams(planned)}`, 'owner'))
    const query = new URLSearchParams({ q: text.slice(0, 190) })
    for (const name of [
      'kind',
      'after',
      'next',
      'done',
      'undo',
      'part',
      'maker',
      'status',
      'sort',
      'piece',
      'original',
    ])
      query.set(name, text)
    for (const path of [
      '/search',
      '/sign-in',
      '/pieces',
      '/originals',
      '/sources',
      '/drafts',
      '/compare',
      '/',
      '/nowhere',
    ])
      keep(`GET ${path}?…`, await target.send(`${path}?${query}`, path === '/sign-in' ? 'anonymous' : 'owner'))
    const claim = `/originals/1/claims/new?feature=width&part=${encodeURIComponent(text)}`
    keep('GET /originals/:id/claims/new?…', await target.send(claim, 'owner'))
    keep('GET an address of it', await target.send(`/${encodeURIComponent(text)}`, 'owner'))
    await sendFiles(target, keep, text)
  }
}

const owned = { owner_id: 2 }

/** A photograph and an archive with the words in their file names, and an archive that is none. */
async function sendFiles(target: Target, keep: Keep, text: string): Promise<void> {
  const form = (file: Buffer, field: string) => {
    const data = new FormData()
    for (const name of ['caption', 'part', 'credit', 'licence', 'takenOn'])
      if (field === 'photo') data.append(name, text)
    data.append(field, new Blob([new Uint8Array(file)], { type: 'image/jpeg' }), `${text}.jpg`)
    return data
  }
  const paths = [`/originals/${makeOriginal(target.db, owned)}/photos`, `/pieces/${makePiece(target.db, owned)}/photos`]
  for (const path of paths) {
    const [, noun] = path.split('/')
    keep(`POST /${noun}/:id/photos, shown again`, await target.send(path, 'owner', form(Buffer.from(text), 'photo')))
  }
  keep('POST /import, shown again', await target.send('/import', 'owner', form(Buffer.from(text), 'archive')))
}

/** A real photograph whose camera wrote every payload beside the picture. @returns the pictures that are served of it */
export async function sendPicture(target: Target, keep: Keep, payloads: readonly string[]): Promise<Buffer[]> {
  const served: Buffer[] = []
  const words = payloads.join('\n').replace(/[^\n\x20-\x7e]/g, '?')
  const file = await sharp(await makeJpeg())
    .withExif({ IFD0: { ImageDescription: words, Artist: words, Copyright: words, Software: words } })
    .jpeg()
    .toBuffer()
  const id = makeOriginal(target.db, owned)
  const data = new FormData()
  for (const [name, value] of Object.entries({ caption: 'x', part: '', credit: '', licence: '', takenOn: '' }))
    data.append(name, value)
  data.append('photo', new Blob([new Uint8Array(file)], { type: 'image/jpeg' }), '"><x-mark>.jpg')
  const { location } = await target.send(`/originals/${id}/photos`, 'owner', data)
  const [path = ''] = location.split('?')
  for (const page of [path, `/originals/${id}`])
    keep('GET a photograph with words of the camera', await target.send(page, 'owner'))
  for (const size of SIZES) {
    const { type, bytes } = await target.send(`${path}/${size}.jpg`, 'owner')
    if (type === 'image/jpeg') served.push(bytes)
  }
  return served
}
