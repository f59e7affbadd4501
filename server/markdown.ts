import Handlebars from 'handlebars'
import { marked } from 'marked'
import sanitizeHtml from 'sanitize-html'
import { z } from 'zod'
import { NOTE_BYTES } from './form.ts'
import { toHtml, type Html } from './pages.ts'
import { withinTime } from './within-time.ts'

/** Deeper lists and quotations than this make the parser slow and are nobody's notes. */
const MOST_NESTING = 16

/** Everybody else waits meanwhile. 64 KB as people write them take a tenth of this on a machine that does nothing else. */
const MOST_MS = 900

/** As HTML, in characters: one link that is used a thousand times is written a thousand times. */
const LONGEST_HTML = 1_000_000

/** Why a note cannot be kept, as a sentence for its field; undefined when it can. */
export function noteProblem(text: string): string | undefined {
  const bytes = Buffer.byteLength(text)
  if (bytes > NOTE_BYTES) {
    return `This note has ${Math.ceil(bytes / 1024)} KB; at most ${NOTE_BYTES / 1024} KB fit. Please split it.`
  }
  if (/[\u0000-\u0008\u000b-\u001f\u007f]/.test(text)) return 'Please leave out control characters.'
  const deep = text.split('\n').findIndex((line) => nesting(line) > MOST_NESTING)
  if (deep >= 0)
    return `Line ${deep + 1} is nested more than ${MOST_NESTING} deep; please flatten the list or quotation.`
  if (layOut(text) === undefined)
    return 'This note cannot be laid out: it has very many marks or links, or a table with very many empty cells. Please make it plainer.'
  return undefined
}

/** A form field for own notes in Markdown: what cannot be kept is said there, and the text stays in the form. */
export const note = () =>
  z.string().transform((text, check) => {
    const trimmed = text.trim()
    const problem = noteProblem(trimmed)
    if (problem) check.addIssue({ code: 'custom', message: problem })
    return trimmed
  })

function nesting(line: string): number {
  const marker = /^\s*(?:>|[-*+](?=\s|$)|\d{1,9}[.)](?=\s|$))/
  if (!marker.test(line)) return 0
  let depth = Math.floor((/^\s*/.exec(line)?.[0].replace(/\t/g, '    ').length ?? 0) / 2)
  let rest = line
  for (let found = marker.exec(rest); found; found = marker.exec(rest)) {
    depth += 1
    rest = rest.slice(found[0].length)
  }
  return depth
}

const ALLOWED: sanitizeHtml.IOptions = {
  allowedTags: [
    ...[
      'p',
      'br',
      'hr',
      'h3',
      'h4',
      'h5',
      'h6',
      'blockquote',
      'ul',
      'ol',
      'li',
      'em',
      'strong',
      'del',
      'code',
      'pre',
      'a',
    ],
    ...['table', 'thead', 'tbody', 'tr', 'th', 'td', 'sup', 'sub'],
  ],
  allowedAttributes: { a: ['href', 'rel'], ol: ['start'] },
  allowedSchemes: ['http', 'https', 'mailto'],
  allowProtocolRelative: false,
  nonTextTags: ['style', 'script', 'textarea', 'option', 'xmp', 'noembed', 'noframes', 'plaintext', 'noscript'],
  transformTags: {
    // A note stands inside a page that has its own first and second headings.
    h1: 'h3',
    h2: 'h3',
    a: (_name, attributes) => ({ tagName: 'a', attribs: { ...attributes, rel: 'nofollow noopener noreferrer' } }),
  },
}

const rendered = new Map<string, Html>()

/**
 * A note as HTML, sanitised; as it was typed where it cannot be laid out. The last hundred are remembered, for a page
 * that is read again shows the same ones.
 */
export const renderNote = (text: string): Html =>
  layOut(text) ?? toHtml(`<pre>${Handlebars.escapeExpression(text)}</pre>`)

/** Undefined when it takes too long or grows too large: the parser is slower than linear, and fills up short rows. */
function layOut(text: string): Html | undefined {
  const known = rendered.get(text)
  if (known) return known
  const done = withinTime(MOST_MS, () => sanitizeHtml(marked.parse(text, { async: false, gfm: true }), ALLOWED))
  if (!done.inTime || done.value.length > LONGEST_HTML) return undefined
  const html = toHtml(done.value)
  if (rendered.size >= 100) rendered.delete(rendered.keys().next().value as string)
  rendered.set(text, html)
  return html
}
