/** Text and attributes of XML: its five marks escaped, and what XML 1.0 has no place for left out. */
export const escapeXml = (text: string): string =>
  text
    .replace(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, '')
    .replace(/[&<>"']/g, (mark) => MARKS[mark] ?? mark)
const MARKS: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' }

/** `<name a="b">…</name>`; nothing at all where there is nothing in it. */
export function element(
  name: string,
  content: string | readonly string[],
  attributes: Readonly<Record<string, string>> = {},
): string {
  const inside = typeof content === 'string' ? content : content.join('')
  if (inside === '') return ''
  const said = Object.entries(attributes).map(([key, value]) => ` ${key}="${escapeXml(value)}"`)
  return `<${name}${said.join('')}>${inside}</${name}>`
}

/** The same with a text in it. */
export const textElement = (name: string, text: string, attributes: Readonly<Record<string, string>> = {}): string =>
  element(name, escapeXml(text), attributes)
