import { send, type Running } from '../support/server.ts'
import { PASSWORD } from '../support/guild.ts'
import { DRAFT, type Templates } from './template.ts'

/** One thing that somebody does, as a browser sends it. */
export interface Write {
  readonly name: string
  readonly on: 'lone' | 'guild' | 'empty'
  /** In `npm run faults` the program is killed at every call of it, and not at a few. */
  readonly isSwept?: true
  /** It makes more than a hundred calls, so fewer of them are tried. */
  readonly isLong?: true
  /** Comes before, and is not disturbed. */
  readonly prepare?: (server: Running, given: Templates) => Promise<string>
  readonly send: (server: Running, given: Templates, prepared: string) => Promise<Response>
}

const form =
  (path: string, fields: Readonly<Record<string, string>> = {}): Write['send'] =>
  (server) =>
    send(server, path, fields)

const asKeeper =
  (path: string, fields: Readonly<Record<string, string>> = {}): Write['send'] =>
  (server, { cookie }) =>
    send(server, path, fields, { cookie })

export function fileOf(
  field: string,
  content: Buffer,
  name: string,
  fields: Readonly<Record<string, string>> = {},
): FormData {
  const sent = new FormData()
  for (const [key, value] of Object.entries(fields)) sent.set(key, value)
  sent.set(field, new Blob([new Uint8Array(content)]), name)
  return sent
}

const WIDTH = { feature: 'width', kind: 'value', value: '14.5', unit: 'mm', state: 'asPreserved', basis: 'read' }
const SITTING = {
  stage: 'weave',
  maker: 'Runa',
  day: '2026-11-20',
  minutes: '90',
  zone: 'Europe/Berlin',
  lengthUnit: 'mm',
}
const YARN = { 'yarns.1.role': 'warp', 'yarns.1.yarn': 'Tow linen' }

/** Sends an archive in; the answer offers what to do with it. */
const sendArchive = (server: Running, { archive }: Templates) =>
  send(server, '/import', fileOf('archive', archive, 'archive.zip'))

export const WRITES: readonly Write[] = [
  { name: 'a new source', on: 'lone', send: form('/sources', { title: 'A letter', kind: 'letter' }) },
  {
    name: 'a changed source',
    on: 'lone',
    isSwept: true,
    send: form('/sources/1', { title: 'Changed', kind: 'book', version: '1' }),
  },
  { name: 'a new original', on: 'lone', send: form('/originals', { name: 'Marsh band' }) },
  {
    name: 'a claim with a source of its own',
    on: 'lone',
    send: form('/originals/1/claims', { ...WIDTH, newSource: 'A letter' }),
  },
  {
    name: 'a working claim',
    on: 'lone',
    isSwept: true,
    send: form('/claims/1/withdraw', { withdrawReason: 'Misread.' }),
  },
  { name: 'a new draft', on: 'lone', send: form('/drafts', { ...DRAFT, title: 'Steps' }) },
  {
    name: 'a further revision',
    on: 'lone',
    isSwept: true,
    send: form('/drafts/1/revisions', { ...DRAFT, turning: '1F x2', note: 'Longer.' }),
  },
  { name: 'a piece with yarns', on: 'lone', send: form('/pieces', { name: 'Belt', ...YARN }) },
  { name: 'a sitting', on: 'lone', send: form('/pieces/1/sittings', SITTING) },
  {
    name: 'a photograph',
    on: 'lone',
    send: (server, { jpeg }) =>
      send(server, '/pieces/1/photos', fileOf('photo', jpeg, 'a.jpg', { caption: 'Selvedge' })),
  },
  { name: 'an original into the bin', on: 'lone', isSwept: true, send: form('/sources/2/delete') },
  { name: 'a piece out of the bin', on: 'lone', isSwept: true, send: form('/bin/piece/2/restore') },
  { name: 'a piece gone for good', on: 'lone', send: form('/bin/piece/2/purge') },
  { name: 'a backup', on: 'lone', isLong: true, send: form('/keeper/backup') },
  {
    name: 'a restore',
    on: 'lone',
    isLong: true,
    send: (server, { backup }) => send(server, `/keeper/restore/${backup}`),
  },
  { name: 'an archive that is sent', on: 'empty', isSwept: true, send: sendArchive },
  {
    name: 'an archive that is brought in',
    on: 'empty',
    isLong: true,
    prepare: async (server, given) =>
      /\/import\/([0-9a-f]{32})"/.exec(await (await sendArchive(server, given)).text())![1]!,
    send: (server, _, token) => send(server, `/import/${token}`, { rest: 'ours' }),
  },
  {
    name: 'the first member',
    on: 'lone',
    send: form('/members/first', { name: 'Oda', signInName: 'oda', password: PASSWORD }),
  },
  { name: 'a sign-in', on: 'guild', send: form('/sign-in', { signInName: 'brand', password: PASSWORD }) },
  {
    name: 'an invitation that is taken',
    on: 'guild',
    isSwept: true,
    send: (server, { invitation }) =>
      send(server, `/invite/${invitation}`, { name: 'Hild', signInName: 'hild', password: PASSWORD }),
  },
  { name: 'another role', on: 'guild', isSwept: true, send: asKeeper('/members/2/role', { role: 'guest' }) },
  { name: 'who sees it', on: 'guild', isSwept: true, send: asKeeper('/originals/1/share', { visibility: 'members' }) },
  { name: 'a co-maker', on: 'guild', isSwept: true, send: asKeeper('/pieces/1/co-makers', { member: '2' }) },
]

/** It was taken: a redirect after a write, or the page that says what is next. */
export const isTaken = ({ status }: Response): boolean => status === 303 || status === 200
