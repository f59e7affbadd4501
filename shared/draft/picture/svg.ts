/**
 * Text made safe inside an SVG element or a double-quoted attribute.
 * @returns the text with & < > " written as entities, and characters that XML forbids left out
 * @example escapeXml('"S & Z"\u0000') // '&quot;S &amp; Z&quot;'
 */
export function escapeXml(text: string): string {
  return text
    .replace(FORBIDDEN, '')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
}

// XML 1.0, production 2 (Char): no control characters but tab and line ends, no lone surrogates, no U+FFFE, U+FFFF.
const FORBIDDEN =
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g

/**
 * A number as short as SVG takes it: at most so many decimals, no trailing zeros, no zero before the point.
 * @param value finite
 * @param decimals 0 to 6, 2 unless told
 * @throws RangeError when value is not finite
 * @example short(0.5) // '.5'; short(-0.001) // '0'; short(12) // '12'
 */
export function short(value: number, decimals = 2): string {
  if (!Number.isFinite(value)) throw new RangeError(`value must be a finite number, not ${value}`)
  const scale = 10 ** decimals
  const rounded = Math.round(value * scale) / scale
  const text = String(rounded === 0 ? 0 : rounded)
  return text.startsWith('0.') ? text.slice(1) : text.startsWith('-0.') ? '-' + text.slice(2) : text
}

/**
 * Checks the word that begins every id of a picture, so that several pictures can stand in one page.
 * @returns the same word
 * @throws RangeError when it does not begin with a letter or holds anything but letters, digits, - and _
 * @example requireIdPrefix('piece-3') // 'piece-3'; requireIdPrefix('3') // throws
 */
export function requireIdPrefix(idPrefix: string): string {
  if (!/^[A-Za-z][\w-]{0,39}$/.test(idPrefix)) {
    throw new RangeError(
      `idPrefix must be a letter and up to 39 letters, digits, - or _, not ${JSON.stringify(idPrefix)}`,
    )
  }
  return idPrefix
}

/**
 * The outer element of a picture that stands by itself: true size in mm, one user unit a millimetre.
 * @param title shown to those who cannot see the picture; escaped here
 * @throws RangeError when a size is not finite
 * @example svgInMm(10, 5, 'A & B', '') // '<svg … width="10mm" height="5mm" viewBox="0 0 10 5" role="img">…'
 */
export function svgInMm(widthMm: number, heightMm: number, title: string, content: string): string {
  const [width, height] = [short(widthMm, 3), short(heightMm, 3)]
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" ` +
    `viewBox="0 0 ${width} ${height}" role="img"><title>${escapeXml(title)}</title>${content}</svg>`
  )
}
