import { describe, expect, test } from 'vitest'
import { bare, isThere, listLinks, listSources, readSource, readTable } from './source.ts'

const readme = readSource('README.md')

describe('README.md', () => {
  test('its first 30 lines hold a paragraph that states the job and the two commands, and no other command', () => {
    const top = readme.split('\n').slice(0, 30).join('\n')
    expect(top).toMatch(/^# Fellmark\n\n\S[^\n]{200,}\n/)
    const commands = [...top.matchAll(/^\s*(npm .*)$/gm)].map(([, command]) => command)
    expect(commands).toEqual(['npm ci && npm run demo', 'npm ci && npm test'])
  })

  test('its table of settings holds each setting that the program reads, and no other', () => {
    const read = [...readSource('server/settings.ts').matchAll(/\benv\.([A-Z_]+)/g)].map(([, name]) => name)
    const told = readTable('README.md', 'Setting').map(([name]) => bare(name))
    expect(told.toSorted()).toEqual([...new Set(read)].toSorted())
  })

  test('no setting is read anywhere but in settings.ts', () => {
    const elsewhere = ['server', 'shared', 'seeds-demo', 'migrations']
      .flatMap((folder) => listSources(folder, ['.ts', '.mjs']))
      .filter((path) => /process\.env(?!\))/.test(readSource(path)))
    expect(elsewhere).toEqual([])
  })

  test.each(['README.md', 'DEVELOPERS.md'])('each relative link of %s leads to a file', (path) => {
    const links = listLinks(path)
    expect(links.length).toBeGreaterThan(0)
    expect(links.filter((link) => !isThere(link))).toEqual([])
  })

  test('every `npm run` in it is a script of package.json', () => {
    const { scripts } = JSON.parse(readSource('package.json')) as { scripts: Record<string, string> }
    const named = [...readme.matchAll(/npm run ([\w:-]+)/g)].map(([, name = '']) => name)
    expect(named.filter((name) => !(name in scripts))).toEqual([])
  })
})
