import { CREATE, edit, get, OPEN, post, read, SIGNED_IN, type RouteRight } from './route-right.ts'

/** At the loom, and its hours and pace. */
export const LOOM_ROUTES: readonly RouteRight[] = [
  // At the loom a piece is its makers' alone; the worker's script is the same for everybody.
  ...['', '/file.html', '/manifest.webmanifest', '/icon.svg'].map((at) => get(`/pieces/:id/loom${at}`, edit('piece'))),
  ...['', '/steps', '/file'].map((at) => post(`/pieces/:id/loom${at}`, edit('piece'))),
  get('/loom/worker.js', OPEN),
  get('/pieces/:id/hours', read('piece')),
  get('/pieces/:id/hours.csv', read('piece')),
  post('/pieces/:id/hours/approve', edit('piece')),
  post('/pieces/:id/hours/approve-all', edit('piece')),
  post('/pieces/:id/hours/leave-out', edit('piece')),
  post('/pieces/:id/hours/take-back', edit('piece')),
  post('/pieces/:id/hours/limits', edit('piece')),
  // Of the pieces that the viewer may see: its queries see to that.
  get('/hours.csv', SIGNED_IN),
  get('/pieces/:id/pace', read('piece')),
  get('/pace', SIGNED_IN),
  post('/pieces/:id/timer', edit('piece')),
  // The viewer's own clock: the queries find no other.
  post('/timer/pause', CREATE),
  post('/timer/resume', CREATE),
  post('/timer/stop', CREATE),
  post('/timer/discard', CREATE),
]
