import { expect, test } from 'vitest'
import { findRoute } from '../../server/rights/guard.ts'
import { ROUTES } from '../../server/rights/routes-table.ts'
import { startApp } from '../support/start.ts'

/** As much of Express's router as is needed to walk it. */
interface Layer {
  readonly route?: { readonly path: string; readonly methods: Readonly<Record<string, boolean>> }
  readonly handle: unknown
  /** Mounted at the root, so that its paths are whole. */
  readonly slash: boolean
  match(path: string): unknown
}

const stackOf = (router: unknown): readonly Layer[] | undefined => (router as { stack?: readonly Layer[] }).stack

function listRoutes(router: unknown): { method: string; path: string; layer: Layer }[] {
  return (stackOf(router) ?? []).flatMap((layer) => {
    const { route } = layer
    if (!route) return layer.slash ? listRoutes(layer.handle) : []
    const methods = Object.keys(route.methods).map((method) => (method === '_all' ? 'ALL' : method.toUpperCase()))
    return methods.map((method) => ({ method, path: route.path, layer }))
  })
}

/** What is asked before anybody's rights: whether the program is well, which says nothing else. */
const BEFORE_RIGHTS = ['GET /healthz']

const { app } = startApp()
const served = listRoutes(app.router)
const declared = ROUTES.map(({ method, path }) => `${method} ${path}`)

test('every route that is served has a rule, and every rule a route', () => {
  const names = served.map(({ method, path }) => `${method} ${path}`)
  expect(names.filter((name) => !declared.includes(name) && !BEFORE_RIGHTS.includes(name))).toEqual([])
  expect(declared.filter((name) => !names.includes(name))).toEqual([])
  expect(declared.filter((name, at) => declared.indexOf(name) !== at)).toEqual([])
})

test('what is mounted elsewhere than at the root is the API alone, which keeps no data', () => {
  const elsewhere = (app.router as unknown as { stack: readonly Layer[] }).stack.filter(
    (layer) => stackOf(layer.handle) && !layer.slash,
  )
  expect(elsewhere).toHaveLength(1)
  expect(elsewhere[0]!.match('/api/v1/openapi.json')).toBeTruthy()
  const calls = (stackOf(elsewhere[0]!.handle) ?? []).flatMap(({ route }) => (route ? [route.path] : []))
  expect([...new Set(calls)]).toEqual([
    ...['/openapi.json', '/draft/weave', '/draft/infer', '/draft/compare', '/draft/recover'],
    ...['/measure/compare', '/yarn/convert', '/plan/warp', '/work/pace'],
  ])
})

const sample = (path: string) => path.replace(':id', '7').replace(':number', '1').replace(/:\w+/g, 'some')

test.each(ROUTES.map(({ method, path }) => [method, path] as const))(
  '%s %s: the rule that is asked is the rule of the route that answers',
  (method, path) => {
    const address = sample(path)
    expect(findRoute(method, address)?.right.path).toBe(path)
    const first = served.find((route) => [method, 'ALL'].includes(route.method) && route.layer.match(address))
    expect(first?.path).toBe(path)
  },
)
