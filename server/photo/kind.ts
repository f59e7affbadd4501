import { open } from 'node:fs/promises'

/** What a file holds by its first bytes; its name and what the browser says of it count for nothing. */
export type ImageKind = 'jpeg' | 'png' | 'webp' | 'heic' | 'other'

export const IMAGE_TYPES: Readonly<
  Record<'jpeg' | 'png' | 'webp', { readonly type: string; readonly ending: string }>
> = {
  jpeg: { type: 'image/jpeg', ending: 'jpg' },
  png: { type: 'image/png', ending: 'png' },
  webp: { type: 'image/webp', ending: 'webp' },
}

export async function readKind(path: string): Promise<ImageKind> {
  const handle = await open(path, 'r')
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(12), 0, 12, 0)
    return kindOf(buffer.subarray(0, bytesRead))
  } finally {
    await handle.close()
  }
}

/** Sources: ITU T.81 (JPEG), PNG 3rd edition 5.2, RFC 9649 (WebP), ISO/IEC 23008-12 (HEIF brands). */
function kindOf(head: Buffer): ImageKind {
  if (head.subarray(0, 3).equals(Buffer.from([0xff, 0xd8, 0xff]))) return 'jpeg'
  if (head.subarray(0, 8).equals(Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]))) return 'png'
  const text = head.toString('latin1')
  if (text.startsWith('RIFF') && text.slice(8) === 'WEBP') return 'webp'
  if (text.slice(4, 8) === 'ftyp' && /^(hei[cxms]|hev[cmsx]|mif1|msf1)$/.test(text.slice(8))) return 'heic'
  return 'other'
}
