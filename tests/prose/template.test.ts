import { describe, expect, test } from 'vitest'
import { listSources, readSource } from './source.ts'

/** The opening tags of a template, its mustaches taken out so that only HTML is left. */
const tagsOf = (template: string) =>
  template
    .replace(/\{\{!--[\s\S]*?--\}\}|\{\{[^}]*\}\}/g, '')
    .replace(/<!--[\s\S]*?-->/g, '')
    .match(/<[a-z][^<>]*>/gi) ?? []

const unquoted = (tag: string) => /=/.test(tag.replace(/="[^"]*"/g, ''))

describe('views', () => {
  const templates = listSources('views', ['.hbs'])

  test('an attribute without quotes is found out', () => {
    expect(tagsOf('<a href={{link this.path}}>').filter(unquoted)).toHaveLength(1)
    expect(tagsOf('<a href="{{link this.path}}"{{#if x}} open{{/if}}>').filter(unquoted)).toEqual([])
  })

  test.each(templates)('%s: escaped throughout, attributes quoted, no style and no script of its own', (path) => {
    const template = readSource(path)
    const tags = tagsOf(template)
    expect(template).not.toContain('{{{')
    expect(template).not.toMatch(/\{\{~?&/)
    expect(tags.filter(unquoted)).toEqual([])
    expect(tags.filter((tag) => /\s(style|on[a-z]+)=/i.test(tag))).toEqual([])
    expect(template).not.toMatch(/javascript:/i)
    expect(template).not.toMatch(/<style\b/i)
    const scripts = template.match(/<script\b[^>]*>[\s\S]*?<\/script>/gi) ?? []
    expect(
      scripts.filter((script) => !/^<script type="module" src="\{\{asset [^"]*"><\/script>$/.test(script)),
    ).toEqual([])
  })

  test('pictures carry no style attribute either: the content policy of the pages would drop it', () => {
    const drawing = [...listSources('shared', ['.ts']), ...listSources('server', ['.ts'])]
    expect(drawing.filter((path) => /\sstyle=\\?["'$]/.test(readSource(path)))).toEqual([])
  })
})
