import { CREATE, edit, get, own, post, read, type RouteRight } from './route-right.ts'

/** Forecasts and quotes. */
export const QUOTE_ROUTES: readonly RouteRight[] = [
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
]
