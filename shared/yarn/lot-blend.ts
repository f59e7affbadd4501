import type { BlendPart } from './fibre.ts'

export type ReadBlend =
  { readonly ok: true; readonly parts: readonly BlendPart[] } | { readonly ok: false; readonly message: string }

const PERCENT = String.raw`(\d{1,3}(?:\.\d{1,3})?)\s*%?`
const FIBRE = String.raw`([\p{L}][\p{L}\p{M} ()'’-]{0,59}?)`
/** A fibre as a blend names it, in small letters. */
export const BLEND_FIBRE = new RegExp(`^${FIBRE}$`, 'u')
const FIBRE_FIRST = new RegExp(`^${FIBRE}(?:\\s+${PERCENT})?$`, 'u')
const PERCENT_FIRST = new RegExp(`^${PERCENT}\\s*${FIBRE}$`, 'u')

/**
 * A blend as it is typed: fibres with their shares in percent of mass, parted by commas, semicolons or a plus. One fibre
 * alone needs no share.
 * @returns the parts in their order; or a question, above all where the shares do not make 100
 * @example readBlend('80 % wool, silk 20') // [{ fibre: 'wool', percent: 80 }, { fibre: 'silk', percent: 20 }]
 * @example readBlend('wool 80, silk 15') // refused: together they are 95
 */
export function readBlend(text: string): ReadBlend {
  // A comma between figures is a decimal one.
  const plain = text
    .trim()
    .toLowerCase()
    .replace(/(\d),(?=\d)/gu, '$1.')
  const typed = plain.split(/[,;+\n]/u).flatMap((part) => (part.trim() === '' ? [] : [part.trim()]))
  if (typed.length === 0) return { ok: true, parts: [] }
  const parts: BlendPart[] = []
  for (const part of typed) {
    const [, fibre, after] = FIBRE_FIRST.exec(part) ?? []
    const [, before, named] = PERCENT_FIRST.exec(part) ?? []
    const name = (fibre ?? named)?.trim()
    if (!name) return { ok: false, message: `“${part}” is not a fibre with its share; write wool 80, silk 20.` }
    const share = before ?? after
    if (share === undefined && typed.length > 1)
      return { ok: false, message: `How many percent are ${name}? Write it behind: ${name} 20.` }
    const percent = share === undefined ? 100 : Number(share)
    if (!(percent > 0)) return { ok: false, message: `A share of ${name} is more than 0 %; or leave ${name} out.` }
    if (parts.some((one) => one.fibre === name))
      return { ok: false, message: `${name} is there twice. Which is meant?` }
    parts.push({ fibre: name, percent })
  }
  const sum = parts.reduce((total, { percent }) => total + Math.round(percent * 1000), 0) / 1000
  if (sum !== 100)
    return {
      ok: false,
      message: `Together the shares are ${sum} %, not 100. Is a fibre ${sum < 100 ? 'missing' : 'there too often'}, or is one of the shares wrong?`,
    }
  return { ok: true, parts }
}

/** The text that `readBlend` reads. @example writeBlend([{ fibre: 'wool', percent: 80 }, …]) // 'wool 80, silk 20' */
export const writeBlend = (parts: readonly BlendPart[]): string =>
  parts.length === 1 ? parts[0]!.fibre : parts.map(({ fibre, percent }) => `${fibre} ${percent}`).join(', ')

/** `80 % wool, 20 % silk`, for reading. */
export const sayBlend = (parts: readonly BlendPart[]): string =>
  parts.map(({ fibre, percent }) => `${percent} % ${fibre}`).join(', ')
