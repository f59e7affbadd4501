import { open } from 'node:fs/promises'
import { readKind } from '../photo/kind.ts'

/**
 * What is wrong with a picture file of an archive; empty when nothing is. Web sizes are shown to others, so they must be
 * plain JPEG as this program writes it, without what a camera writes beside the pixels: the place may be in there.
 * @param file what it is in the archive, `480.jpg` or `original`
 */
export async function findPictureProblem(path: string, file: string): Promise<string> {
  const kind = await readKind(path)
  if (file === 'original') return kind === 'other' || kind === 'heic' ? 'holds no JPEG, PNG or WebP picture.' : ''
  if (kind !== 'jpeg') return 'holds no JPEG picture.'
  const handle = await open(path, 'r')
  try {
    const { size } = await handle.stat()
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(Math.min(size, 256 * 1024)), 0, undefined, 0)
    return hasNotes(buffer.subarray(0, bytesRead)) ? 'has notes of a camera or a program beside the picture.' : ''
  } finally {
    await handle.close()
  }
}

/**
 * Whether a segment before the picture is one for notes: APP1 (Exif, XMP), APP3 to APP13, APP15, or a comment. APP0 is
 * JFIF, APP2 the colour profile, APP14 Adobe's colour transform.
 * Source: ITU T.81, table B.1; the uses are common practice.
 */
function hasNotes(head: Buffer): boolean {
  for (let at = 2; at + 4 <= head.length;) {
    if (head[at] !== 0xff) return true
    const marker = head[at + 1]!
    if (marker === 0xda || marker === 0xd9) return false
    if (marker === 0xfe || (marker >= 0xe0 && marker <= 0xef && ![0xe0, 0xe2, 0xee].includes(marker))) return true
    at += 2 + head.readUInt16BE(at + 2)
  }
  return true
}
