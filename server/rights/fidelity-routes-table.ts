import { CREATE, edit, get, own, post, read, SIGNED_IN, type RouteRight } from './route-right.ts'

/** How near pieces come, what was decided, and weights of aspects. */
export const FIDELITY_ROUTES: readonly RouteRight[] = [
  get('/pieces/:id/fidelity', read('piece')),
  get('/pieces/:id/judgements/new', edit('piece')),
  post('/pieces/:id/judgements', edit('piece')),
  get('/judgements/:id/edit', edit('judgement')),
  post('/judgements/:id', edit('judgement')),
  post('/judgements/:id/delete', edit('judgement')),
  // Only pieces that the viewer may read: its queries see to that.
  get('/fidelity', SIGNED_IN),

  get('/originals/:id/decisions/new', edit('original')),
  post('/originals/:id/decisions', edit('original')),
  get('/pieces/:id/decisions/new', edit('piece')),
  post('/pieces/:id/decisions', edit('piece')),
  get('/decisions/:id/edit', edit('decision')),
  post('/decisions/:id', edit('decision')),
  post('/decisions/:id/delete', edit('decision')),

  get('/weightings', SIGNED_IN),
  get('/weightings/new', CREATE),
  post('/weightings', CREATE),
  get('/weightings/:id', read('weighting')),
  get('/weightings/:id/edit', edit('weighting')),
  post('/weightings/:id', edit('weighting')),
  post('/weightings/:id/delete', own('weighting')),
  post('/weightings/:id/share', own('weighting')),
  get('/weightings/:id/history', edit('weighting')),
]
