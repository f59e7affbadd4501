import type { Rule, Subject } from './rule.ts'

export interface RouteRight {
  readonly method: 'GET' | 'POST'
  /** As the routers know it, below the public base path. */
  readonly path: string
  readonly rule: Rule
}

const OPEN: Rule = { kind: 'open' }
const SIGNED_IN: Rule = { kind: 'signedIn' }
const CREATE: Rule = { kind: 'create' }
const KEEPER: Rule = { kind: 'keeper' }
const read = (subject: Subject): Rule => ({ kind: 'read', subject })
const edit = (subject: Subject): Rule => ({ kind: 'edit', subject })
const own = (subject: Subject): Rule => ({ kind: 'own', subject })

const get = (path: string, rule: Rule): RouteRight => ({ method: 'GET', path, rule })
const post = (path: string, rule: Rule): RouteRight => ({ method: 'POST', path, rule })

/**
 * Every route and who may use it: the guard reads nothing else, and a route that is not here is answered to nobody.
 * The rights tests are made from this table.
 */
export const ROUTES: readonly RouteRight[] = [
  get('/', SIGNED_IN),
  get('/welcome.svg', SIGNED_IN),
  get('/colophon', OPEN),
  post('/look', OPEN),
  post('/demo', KEEPER),
  get('/demo/remove', KEEPER),
  post('/demo/remove', KEEPER),
  get('/healthz', OPEN),
  get('/keeper', KEEPER),
  post('/keeper/backup', KEEPER),
  get('/keeper/check', KEEPER),
  get('/keeper/restore/:name', KEEPER),
  post('/keeper/restore/:name', KEEPER),
  get('/keeper/delete/:name', KEEPER),
  post('/keeper/delete/:name', KEEPER),
  get('/search', SIGNED_IN),
  get('/compare', SIGNED_IN),
  get('/yarns/reckon', SIGNED_IN),
  // The viewer's own beside the built-in ones.
  get('/yarns/fibres', SIGNED_IN),
  get('/yarns/fibres/new', CREATE),
  post('/yarns/fibres', CREATE),
  get('/yarns/fibres/:id/edit', own('fibre_density')),
  post('/yarns/fibres/:id', own('fibre_density')),
  post('/yarns/fibres/:id/delete', own('fibre_density')),

  get('/sources', SIGNED_IN),
  // Of the sources that the viewer may see.
  get('/sources/export', SIGNED_IN),
  get('/bibliography', SIGNED_IN),
  // In a cookie of their own browser; for the notebook the keeper alone, whom the handler asks for.
  post('/citation-style', SIGNED_IN),
  get('/sources/import', CREATE),
  post('/sources/import', CREATE),
  get('/sources/new', CREATE),
  post('/sources', CREATE),
  get('/sources/:id', read('source')),
  get('/sources/:id/edit', edit('source')),
  post('/sources/:id', edit('source')),
  post('/sources/:id/delete', own('source')),
  post('/sources/:id/share', own('source')),

  get('/originals', SIGNED_IN),
  get('/originals/new', CREATE),
  post('/originals', CREATE),
  get('/originals/:id', read('original')),
  get('/originals/:id/edit', edit('original')),
  post('/originals/:id', edit('original')),
  post('/originals/:id/delete', own('original')),
  post('/originals/:id/share', own('original')),
  get('/originals/:id/claims/new', edit('original')),
  post('/originals/:id/claims', edit('original')),

  get('/features', SIGNED_IN),
  get('/features/new', CREATE),
  post('/features', CREATE),
  get('/claims/unsupported', SIGNED_IN),
  get('/claims/:id', read('claim')),
  get('/claims/:id/correct', edit('claim')),
  post('/claims/:id/correct', edit('claim')),
  post('/claims/:id/working', edit('claim')),
  post('/claims/:id/withdraw', edit('claim')),

  get('/drafts', SIGNED_IN),
  get('/drafts/new', CREATE),
  get('/drafts/import', CREATE),
  post('/drafts/import', CREATE),
  post('/drafts', CREATE),
  // Works out, and keeps nothing: a guest may ask too.
  get('/drafts/infer', SIGNED_IN),
  post('/drafts/infer', SIGNED_IN),
  post('/drafts/infer/keep', CREATE),
  // Only revisions that the viewer may read: its queries see to that.
  get('/drafts/overlay', SIGNED_IN),
  get('/drafts/:id', read('draft')),
  get('/drafts/:id/edit', edit('draft')),
  get('/drafts/new/bench', CREATE),
  post('/drafts/new/bench', CREATE),
  // With the viewer's own working copy alone: the queries find no other.
  get('/drafts/:id/bench', edit('draft')),
  get('/drafts/:id/bench/copy.json', edit('draft')),
  post('/drafts/:id/bench/copy', edit('draft')),
  post('/drafts/:id/bench/discard', edit('draft')),
  post('/drafts/:id/bench/revision', edit('draft')),
  get('/drafts/:id/details', edit('draft')),
  get('/drafts/:id/convention', edit('draft')),
  post('/drafts/:id/convention', edit('draft')),
  post('/drafts/:id', edit('draft')),
  post('/drafts/:id/revisions', edit('draft')),
  post('/drafts/:id/delete', own('draft')),
  post('/drafts/:id/share', own('draft')),
  get('/drafts/:id/revisions/:number', read('draft')),
  get('/drafts/:id/revisions/:number/recover', read('draft')),
  get('/drafts/:id/revisions/:number/document.json', read('draft')),
  get('/drafts/:id/revisions/:number/cards', read('draft')),
  get('/drafts/:id/revisions/:number/export', read('draft')),
  get('/drafts/:id/revisions/:number/draft.txt', read('draft')),
  get('/drafts/:id/revisions/:number/turns.csv', read('draft')),
  get('/drafts/:id/revisions/:number/face.csv', read('draft')),
  get('/drafts/:id/revisions/:number/reverse.csv', read('draft')),
  get('/drafts/:id/revisions/:number/face.png', read('draft')),
  get('/drafts/:id/revisions/:number/reverse.png', read('draft')),
  // Remembers how somebody reads cards, in a cookie of their own browser; nothing of the draft is written.
  post('/drafts/:id/revisions/:number/cards', read('draft')),
  get('/drafts/:id/revisions/:number/face.svg', read('draft')),
  get('/drafts/:id/revisions/:number/reverse.svg', read('draft')),
  get('/drafts/:id/revisions/:number/threading.svg', read('draft')),
  get('/drafts/:id/revisions/:number/twist.svg', read('draft')),
  get('/drafts/:id/revisions/:number/tell', read('draft')),
  // In the colours of the lots that the viewer may see.
  get('/drafts/:id/revisions/:number/lots', read('draft')),

  get('/pieces', SIGNED_IN),
  get('/pieces/new', CREATE),
  post('/pieces', CREATE),
  get('/pieces/:id', read('piece')),
  get('/pieces/:id/edit', edit('piece')),
  post('/pieces/:id', edit('piece')),
  get('/pieces/:id/delete', own('piece')),
  post('/pieces/:id/delete', own('piece')),
  post('/pieces/:id/share', own('piece')),
  post('/pieces/:id/co-makers', own('piece')),
  post('/pieces/:id/co-makers/remove', own('piece')),
  get('/pieces/:id/compare', read('piece')),
  // Of the lots that are the viewer's own: the handler asks.
  get('/pieces/:id/settle', edit('piece')),
  post('/pieces/:id/settle', edit('piece')),
  get('/pieces/:id/plan', read('piece')),
  post('/pieces/:id/plan', edit('piece')),
  // Works out, and keeps nothing.
  post('/pieces/:id/plan/work', read('piece')),
  // Whether the draft is theirs to change too, the handler asks.
  post('/pieces/:id/plan/revision', edit('piece')),
  // Only lots that the viewer may change: the handler asks for each.
  post('/pieces/:id/plan/reserve', edit('piece')),
  get('/pieces/:id/plan/cards', read('piece')),
  get('/pieces/:id/forecast', edit('piece')),
  // From finished pieces of the viewer's own.
  get('/drafts/:id/revisions/:number/forecast', read('draft')),
  get('/forecasts', CREATE),
  // Of a piece that the viewer may edit or a draft that they may see: the handler asks.
  post('/forecasts', CREATE),
  post('/forecasts/:id', own('forecast')),

  // Quotes are for their owner, and for nobody else at all: of each list the queries take the viewer's own.
  get('/quotes', CREATE),
  get('/quotes/new', CREATE),
  post('/quotes', CREATE),
  get('/quotes/terms', CREATE),
  post('/quotes/terms', CREATE),
  get('/quotes/results', CREATE),
  get('/quotes/:id', own('quote')),
  post('/quotes/:id', own('quote')),
  post('/quotes/:id/work', own('quote')),
  post('/quotes/:id/forecast', own('quote')),
  post('/quotes/:id/answer', own('quote')),
  post('/quotes/:id/piece', own('quote')),
  post('/quotes/:id/copy', own('quote')),
  post('/quotes/:id/delete', own('quote')),
  get('/quotes/:id/paper', own('quote')),
  get('/quotes/:id/versions/:number', own('quote')),
  // With the viewer's own ticks alone.
  get('/pieces/:id/plan/threading', edit('piece')),
  post('/pieces/:id/plan/threading', edit('piece')),
  // At the loom a piece is its makers' alone; the worker's script is the same for everybody.
  ...['', '/file.html', '/manifest.webmanifest', '/icon.svg'].map((at) => get(`/pieces/:id/loom${at}`, edit('piece'))),
  ...['', '/steps', '/file'].map((at) => post(`/pieces/:id/loom${at}`, edit('piece'))),
  get('/loom/worker.js', OPEN),
  get('/pieces/:id/claims/new', edit('piece')),
  post('/pieces/:id/claims', edit('piece')),
  get('/pieces/:id/sittings/new', edit('piece')),
  post('/pieces/:id/sittings', edit('piece')),
  get('/pieces/:id/pace', read('piece')),
  get('/pace', SIGNED_IN),
  get('/sittings/:id/edit', edit('sitting')),
  post('/sittings/:id', edit('sitting')),
  post('/sittings/:id/delete', edit('sitting')),

  get('/yarns', SIGNED_IN),
  get('/yarns/new', CREATE),
  post('/yarns', CREATE),
  get('/yarns/import', CREATE),
  post('/yarns/import', CREATE),
  // Of what the viewer may see; supplier and price of their own alone.
  get('/yarns/lots.csv', SIGNED_IN),
  get('/yarns/colour', SIGNED_IN),
  get('/yarns/:id', read('yarn')),
  get('/yarns/:id/edit', edit('yarn')),
  post('/yarns/:id', edit('yarn')),
  post('/yarns/:id/delete', own('yarn')),
  post('/yarns/:id/share', own('yarn')),
  get('/yarns/:id/lots/new', edit('yarn')),
  post('/yarns/:id/lots', edit('yarn')),
  get('/lots/:id', read('lot')),
  get('/lots/:id/edit', edit('lot')),
  post('/lots/:id', edit('lot')),
  post('/lots/:id/delete', own('lot')),
  post('/lots/:id/movements', edit('lot')),
  get('/movements/:id/correct', edit('movement')),
  post('/movements/:id/correct', edit('movement')),

  get('/originals/:id/photos/new', edit('original')),
  post('/originals/:id/photos', edit('original')),
  get('/pieces/:id/photos/new', edit('piece')),
  post('/pieces/:id/photos', edit('piece')),
  get('/photos/:id', read('photo')),
  get('/photos/:id/edit', edit('photo')),
  post('/photos/:id', edit('photo')),
  post('/photos/:id/delete', edit('photo')),
  // With all that the camera wrote in it.
  get('/photos/:id/original', own('photo')),
  get('/photos/:id/:size.jpg', read('photo')),

  // What is read off a photograph; whether the viewer may keep it with the thing named, the handler asks.
  get('/observed/new', CREATE),
  post('/originals/:id/observed', edit('original')),
  post('/pieces/:id/observed', edit('piece')),
  get('/pieces/:id/hours', read('piece')),
  get('/pieces/:id/hours.csv', read('piece')),
  post('/pieces/:id/hours/approve', edit('piece')),
  post('/pieces/:id/hours/approve-all', edit('piece')),
  post('/pieces/:id/hours/leave-out', edit('piece')),
  post('/pieces/:id/hours/take-back', edit('piece')),
  post('/pieces/:id/hours/limits', edit('piece')),
  // Of the pieces that the viewer may see: its queries see to that.
  get('/hours.csv', SIGNED_IN),
  post('/pieces/:id/timer', edit('piece')),
  // The viewer's own clock: the queries find no other.
  post('/timer/pause', CREATE),
  post('/timer/resume', CREATE),
  post('/timer/stop', CREATE),
  post('/timer/discard', CREATE),
  get('/observed/:id', read('observed')),
  get('/observed/:id/face.svg', read('observed')),
  post('/observed/:id/delete', edit('observed')),

  get('/sign-in', OPEN),
  post('/sign-in', OPEN),
  post('/sign-out', OPEN),
  get('/setup/:token', OPEN),
  post('/setup/:token', OPEN),
  get('/invite/:token', OPEN),
  post('/invite/:token', OPEN),
  get('/reset/:token', OPEN),
  post('/reset/:token', OPEN),
  // The viewer's own alone: the handlers find nothing else.
  get('/account', SIGNED_IN),
  post('/account', SIGNED_IN),
  post('/account/password', SIGNED_IN),
  post('/account/sessions/end-others', SIGNED_IN),
  post('/account/sessions/:key/end', SIGNED_IN),
  post('/account/tokens', SIGNED_IN),
  post('/account/tokens/:id/end', SIGNED_IN),
  get('/members', KEEPER),
  post('/members/first', KEEPER),
  post('/members/invite', KEEPER),
  post('/members/invitations/:key/withdraw', KEEPER),
  post('/members/:id/reset', KEEPER),
  post('/members/:id/role', KEEPER),
  get('/members/:id/leave', KEEPER),
  post('/members/:id/leave', KEEPER),
  // What somebody who leaves takes along: whoever keeps the notebook gives it to them.
  get('/members/:id/export.zip', KEEPER),

  get('/export', CREATE),
  get('/export/notebook.zip', KEEPER),
  get('/export/mine.zip', CREATE),
  get('/pieces/:id/export.zip', read('piece')),
  get('/import', CREATE),
  post('/import', CREATE),
  // Of the viewer's own archive alone, under the token of its sending.
  get('/import/:token', CREATE),
  post('/import/:token', CREATE),
  post('/import/:token/leave', CREATE),

  get('/bin', CREATE),
  // Of the viewer's own bin alone: the handler finds nothing else in it.
  post('/bin/:kind/:entry/restore', CREATE),
  post('/bin/:kind/:entry/purge', CREATE),
  get('/sources/:id/history', edit('source')),
  get('/originals/:id/history', edit('original')),
  get('/drafts/:id/history', edit('draft')),
  get('/pieces/:id/history', edit('piece')),
  get('/yarns/:id/history', edit('yarn')),
]
