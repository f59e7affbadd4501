export interface Decoded {
  readonly text: string
  /** It was no UTF-8, so accents may be wrong. */
  readonly isGuessed: boolean
}

/**
 * The text of a file of sources: by its byte order mark, else as UTF-8 where it is one, else as Windows-1252, which holds
 * Latin-1. Line ends become "\n".
 */
export function decodeFile(bytes: Uint8Array): Decoded {
  const marked = ([0xff, 0xfe] as const).every((byte, at) => bytes[at] === byte)
    ? 'utf-16le'
    : ([0xfe, 0xff] as const).every((byte, at) => bytes[at] === byte)
      ? 'utf-16be'
      : undefined
  if (marked) return { text: toLines(new TextDecoder(marked).decode(bytes)), isGuessed: false }
  try {
    return { text: toLines(new TextDecoder('utf-8', { fatal: true }).decode(bytes)), isGuessed: false }
  } catch {
    return { text: toLines(decodeWestern(bytes)), isGuessed: true }
  }
}

const toLines = (text: string) => text.replace(/\r\n?/g, '\n')

/** 0x80 to 0x9f of Windows-1252 (a dot where it has none); Node 20 decodes them as control characters of Latin-1. */
const WESTERN = '€.‚ƒ„…†‡ˆ‰Š‹Œ.Ž..‘’“”•–—˜™š›œ.žŸ'
const decodeWestern = (bytes: Uint8Array) =>
  Buffer.from(bytes)
    .toString('latin1')
    .replace(/[\u0080-\u009f]/g, (letter) => WESTERN.charAt(letter.charCodeAt(0) - 0x80).replace('.', ''))
