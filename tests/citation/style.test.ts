import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import type { CslItem } from '../../shared/source/csl.ts'
import { askCitation } from '../../server/cite-thread.ts'
import { referenceHtml, referenceText } from '../../server/citation/html.ts'
import { ENGINE, STYLE_KEYS, type StyleKey } from '../../server/citation/style.ts'
import { readLocator } from '../../shared/source/locator.ts'
import { toCslItem } from '../../shared/source/to-csl.ts'
import { readSourceForm } from '../../server/source/form.ts'

/** A source as its form takes it, so that the way from the form to the page is tested as well. */
function item(fields: Readonly<Record<string, string>>, id = '1'): CslItem {
  const read = readSourceForm(fields)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return toCslItem(read.value, {}, id)
}

async function print(style: StyleKey, given: CslItem, place = '') {
  const locators = place === '' ? [] : [readLocator(place)]
  const [printed] = await askCitation({ kind: 'print', style, jobs: [{ item: given, locators }] })
  if (!printed) throw new Error('nothing was printed')
  return { entry: referenceText(printed.entry), citation: referenceText(printed.located[0] ?? printed.citation) }
}

// Chicago: "Notes and Bibliography: Sample Citations" of the Chicago Manual of Style Online, 17th edition.
const SMITH = {
  ...{ title: 'Swing Time', people: 'Smith, Zadie', year: '2016', kind: 'book' },
  ...{ publisher: 'Penguin Press', place: 'New York' },
}
const THOREAU = {
  ...{ title: 'Walking', people: 'Thoreau, Henry David', year: '2016', kind: 'chapter', pages: '167-195' },
  ...{ container: 'The Making of the American Essay', editors: 'D’Agata, John', publisher: 'Graywolf Press' },
  place: 'Minneapolis',
}
// Vancouver: the samples that the National Library of Medicine keeps for the ICMJE's Recommendations.
const HALPERN = {
  ...{ title: 'Solid-organ transplantation in HIV-infected patients', kind: 'article', year: '2002-07-25' },
  ...{ people: 'Halpern, S. D.; Ubel, P. A.; Caplan, A. L.', container: 'N Engl J Med', volume: '347', issue: '4' },
  pages: '284-287',
}
const DIABETES = {
  ...{
    title: 'Hypertension, insulin, and proinsulin in participants with impaired glucose tolerance',
    kind: 'article',
  },
  ...{ people: 'Diabetes Prevention Program Research Group', container: 'Hypertension', volume: '40', issue: '5' },
  ...{ pages: '679-686', year: '2002' },
}
// APA: the reference examples at apastyle.apa.org, 7th edition (from memory).
const GRADY = {
  title:
    'Emotions in storybooks: A comparison of storybooks that represent ethnic and racial groups in the United States',
  ...{ people: 'Grady, J. S.; Her, M.; Moreno, G.; Perez, C.; Yelinek, J.', year: '2019', kind: 'article' },
  ...{ container: 'Psychology of Popular Media Culture', volume: '8', issue: '3', pages: '207-217' },
  doi: '10.1037/ppm0000185',
}

describe('a reference is printed as its style publishes it', () => {
  test.each<[StyleKey, Readonly<Record<string, string>>, string]>([
    ['chicago', SMITH, 'Smith, Zadie. Swing Time. New York: Penguin Press, 2016.'],
    [
      ...(['chicago', THOREAU] as const),
      'Thoreau, Henry David. “Walking.” In The Making of the American Essay, edited by John D’Agata, 167–95. Minneapolis: Graywolf Press, 2016.',
    ],
    [
      ...(['vancouver', HALPERN] as const),
      '1. Halpern SD, Ubel PA, Caplan AL. Solid-organ transplantation in HIV-infected patients. N Engl J Med. 2002 Jul 25;347(4):284–7.',
    ],
    [
      ...(['vancouver', DIABETES] as const),
      '1. Diabetes Prevention Program Research Group. Hypertension, insulin, and proinsulin in participants with impaired glucose tolerance. Hypertension. 2002;40(5):679–86.',
    ],
    [
      ...(['apa', GRADY] as const),
      'Grady, J. S., Her, M., Moreno, G., Perez, C., & Yelinek, J. (2019). Emotions in storybooks: A comparison of storybooks that represent ethnic and racial groups in the United States. Psychology of Popular Media Culture, 8(3), 207–217. https://doi.org/10.1037/ppm0000185',
    ],
  ])('%s', async (style, fields, entry) => {
    // The samples of Vancouver have a hyphen where the style sets a dash.
    expect((await print(style, item(fields))).entry).toBe(entry)
  })

  test.each<[StyleKey, Readonly<Record<string, string>>, string, string]>([
    // The notes of the same sample citations.
    ['chicago', SMITH, 'pp. 315–316', 'Zadie Smith, Swing Time (New York: Penguin Press, 2016), 315–16.'],
    [
      ...(['chicago', THOREAU, 'pp. 177–178'] as const),
      'Henry David Thoreau, “Walking,” in The Making of the American Essay, ed. John D’Agata (Minneapolis: Graywolf Press, 2016), 177–78.',
    ],
    // Places: the abbreviations of the Antiquity text conventions (fig., pl.), the rest common practice, no source.
    ['antiquity', SMITH, 'fig. 3', '(Smith 2016: fig. 3)'],
    ['antiquity', SMITH, 'pl. XII', '(Smith 2016: pl. XII)'],
    ['apa', SMITH, 'p. 41', '(Smith, 2016, p. 41)'],
    ['apa', SMITH, 'pls 3 and 4', '(Smith, 2016, pls 3 and 4)'],
    ['apa', SMITH, 'cat. no. 12', '(Smith, 2016, cat. no. 12)'],
    ['apa', SMITH, 'inside cover', '(Smith, 2016, inside cover)'],
  ])('%s cites a place', async (style, fields, place, citation) => {
    expect((await print(style, item(fields), place)).citation).toBe(citation)
  })

  test('together, in the order of the style, with letters where author and year are the same', async () => {
    const items = [
      item({ ...SMITH, title: 'Swing' }, '1'),
      item(SMITH, '2'),
      item(THOREAU, '3'),
      item({ ...SMITH, people: 'Abel, A.' }, '4'),
    ]
    const printed = await askCitation({ kind: 'list', style: 'antiquity', items })
    expect(printed.map(({ id }) => id)).toEqual(['4', '1', '2', '3'])
    expect(referenceText(printed[1]?.html ?? '')).toContain('2016a. Swing.')
    expect(referenceText(printed[2]?.html ?? '')).toContain('2016b. Swing Time.')
    expect(await askCitation({ kind: 'list', style: 'antiquity', items: [] })).toEqual([])
  })
})

test.each(STYLE_KEYS)('%s: what is typed is text, whatever it looks like', async (style) => {
  const hostile = '<script>alert(1)</script><i onclick="x">é</i> & "q" {{7}} </div><b>'
  const given = item({
    title: hostile,
    people: `${hostile.replace(/[;,{}]/g, '')}, A.`,
    kind: 'book',
    publisher: hostile,
    url: 'https://example.org/"><script>',
  })
  const [printed] = await askCitation({
    kind: 'print',
    style,
    jobs: [{ item: given, locators: [{ label: '', text: hostile }] }],
  })
  for (const made of [printed?.entry ?? '', printed?.citation ?? '', printed?.located[0] ?? '']) {
    const html = referenceHtml(made).toHTML()
    expect(html.replace(/<\/?(?:i|span)(?: class="[a-z-]+")?>/g, '')).not.toMatch(/[<>]/)
  }
  expect(referenceText(printed?.entry ?? '')).toContain('<script>alert(1)</script>')
})

test('referenceHtml(made) lets through what a reference is made of, and nothing else', () => {
  const made =
    '<div class="csl-entry"><div class="csl-left-margin">1.</div><span style="font-variant:small-caps;">Oss</span> <i>x</i>' +
    '<script>a()</script><img src=x onerror=a()><a href="javascript:a()">b</a><span class="evil" onclick="a()">c</span></div>'
  expect(referenceHtml(made).toHTML()).toBe(
    '<span><span class="reference-number">1.</span> <span class="small-caps">Oss</span> <i>x</i>b<span>c</span></span>',
  )
})

test('ENGINE names the engine and the styles that are there: another value prints every reference anew', () => {
  const folder = fileURLToPath(new URL('../../server/citation/styles', import.meta.url))
  const hash = createHash('sha256')
  for (const file of readdirSync(folder).sort()) hash.update(readFileSync(`${folder}/${file}`))
  const { version } = createRequire(import.meta.url)('citeproc/package.json') as { version: string }
  expect(ENGINE).toMatch(new RegExp(`^citeproc ${version}, styles ${hash.digest('hex').slice(0, 8)}, items \\d+$`))
})
