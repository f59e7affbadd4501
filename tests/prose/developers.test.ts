import { describe, expect, test } from 'vitest'
import { startApp } from '../support/start.ts'
import { bare, isThere, listSources, readSource, readTable } from './source.ts'

/** As much of Express's own layers as is needed to read the routes out of them. */
interface Layer {
  readonly route?: { readonly path: string; readonly methods: Readonly<Record<string, boolean>> }
  readonly handle: { readonly stack?: readonly Layer[] }
  /** Mounted at the root of its router. */
  readonly slash: boolean
  match(path: string): boolean
}

/** Where routers are mounted other than at the root: a layer does not tell its own path, only whether one fits. */
const MOUNTS = ['/api/v1']

function listRoutes(stack: readonly Layer[], before = ''): string[] {
  return stack.flatMap((layer) => {
    if (layer.route) {
      const { path, methods } = layer.route
      return Object.keys(methods).flatMap((method) =>
        method === '_all' ? [] : [`${method.toUpperCase()} ${before}${path}`],
      )
    }
    if (!layer.handle.stack) return []
    const mount = layer.slash ? '' : MOUNTS.find((path) => layer.match(path))
    if (mount === undefined) throw new Error('A router is mounted at a path that this test does not know')
    return listRoutes(layer.handle.stack, before + mount)
  })
}

describe('DEVELOPERS.md', () => {
  const routes = readTable('DEVELOPERS.md', 'Route')

  test('its table of routes holds each route of the program, and no other', () => {
    const { stack } = startApp().app.router as unknown as { stack: readonly Layer[] }
    const answered = listRoutes(stack)
    expect(answered.length).toBeGreaterThan(40)
    expect(routes.map(([route]) => bare(route)).toSorted()).toEqual([...new Set(answered)].toSorted())
  })

  test('each route names the file that answers it, and says what it does', () => {
    for (const [route, file, does] of routes) {
      expect(isThere(`server/${bare(file)}`), `${route} ${file}`).toBe(true)
      expect(does, route).not.toBe('')
    }
  })

  test('its table of commands holds each npm script, and no other', () => {
    const { scripts } = JSON.parse(readSource('package.json')) as { scripts: Record<string, string> }
    const told = readTable('DEVELOPERS.md', 'Command').map(([command]) => bare(command).replace(/^npm (run )?/, ''))
    expect(told.toSorted()).toEqual(Object.keys(scripts).toSorted())
  })

  test('every file and folder that it names in code marks is there', () => {
    const named = [...readSource('DEVELOPERS.md').matchAll(/`((?:[\w.-]+\/)+[\w.-]*)`/g)].map(([, path = '']) => path)
    const roots = ['', 'server/', 'shared/', 'views/', 'tests/']
    const lost = named.filter((path) => path !== 'node_modules/' && !roots.some((root) => isThere(root + path)))
    expect(named.length).toBeGreaterThan(30)
    expect(lost).toEqual([])
  })

  test('its map names each folder of the server', () => {
    const map = readSource('DEVELOPERS.md')
    const folders = new Set(
      listSources('server', ['.ts']).flatMap((path) => /^server\/([^/]+)\//.exec(path)?.[1] ?? []),
    )
    expect([...folders].filter((folder) => !new RegExp(`\\b${folder}\\b`).test(map))).toEqual([])
  })
})
