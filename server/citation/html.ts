import sanitizeHtml from 'sanitize-html'
import { toHtml, type Html } from '../pages.ts'

const ALLOWED: sanitizeHtml.IOptions = {
  allowedTags: ['i', 'em', 'b', 'strong', 'sup', 'sub', 'span'],
  allowedAttributes: { span: ['class'] },
  allowedClasses: { span: ['small-caps', 'reference-number'] },
  // Small capitals by a class: the content policy takes no style of an element.
  transformTags: {
    span: (_name, { style = '' }) => ({
      tagName: 'span',
      attribs: style.includes('small-caps') ? { class: 'small-caps' } : {},
    }),
    div: (_name, { class: name = '' }) => ({
      tagName: 'span',
      attribs: name === 'csl-left-margin' ? { class: 'reference-number' } : {},
    }),
  },
}

/** The blocks of the engine lie in one line here, a number before its reference. */
const apart = (made: string) => made.replace(/<\/div>/g, '</div> ')

/** What the engine made of a source, fit for a page: the only way from the engine into one. */
export const referenceHtml = (made: string): Html =>
  toHtml(sanitizeHtml(apart(made), ALLOWED).replace(/\s+/g, ' ').trim())

/** The same as plain text, for whoever copies it. */
export const referenceText = (made: string): string =>
  sanitizeHtml(apart(made), { allowedTags: [], allowedAttributes: {} })
    .replace(/&lt;/g, '<')
    .replace(/&gt;/g, '>')
    .replace(/&quot;/g, '"')
    .replace(/&amp;/g, '&')
    .replace(/\s+/g, ' ')
    .trim()
