import { crc32, deflateRawSync } from 'node:zlib'

export interface RawEntry {
  readonly name: string | Buffer
  readonly content?: Buffer | string
  readonly deflate?: boolean
  /** What the directory says, where it lies. */
  readonly crc?: number
  readonly size?: number
  readonly packedSize?: number
  readonly flags?: number
  readonly mode?: number
  readonly method?: number
  /** The name before the data, where it is another. */
  readonly localName?: string
  /** Points at the data of the entry with this number instead of at its own. */
  readonly shares?: number
}

/** A zip written byte by byte, so that it can say what no packing program would. */
export function rawZip(entries: readonly RawEntry[], { before = '', after = '', comment = '' } = {}): Buffer {
  const parts: Buffer[] = [Buffer.from(before)]
  const directory: Buffer[] = []
  const offsets: number[] = []
  let at = before.length
  for (const entry of entries) {
    const { deflate = false, flags = 0x800, mode = 0o100644 } = entry
    const content = Buffer.from(entry.content ?? '')
    const packed = deflate ? deflateRawSync(content) : content
    const name = Buffer.from(entry.name)
    const local = Buffer.from(entry.localName ?? entry.name)
    const method = entry.method ?? (deflate ? 8 : 0)
    const [crc, size] = [entry.crc ?? crc32(content), entry.size ?? content.length]
    const packedSize = entry.packedSize ?? packed.length
    const offset = entry.shares === undefined ? at : offsets[entry.shares]!
    offsets.push(offset)
    if (entry.shares === undefined) {
      const header = Buffer.alloc(30)
      header.writeUInt32LE(0x04034b50, 0)
      write16(header, 4, 20, flags, method, 0, 0)
      write32(header, 14, crc, packedSize, size)
      write16(header, 26, local.length, 0)
      parts.push(header, local, packed)
      at += 30 + local.length + packed.length
    }
    const head = Buffer.alloc(46)
    head.writeUInt32LE(0x02014b50, 0)
    write16(head, 4, (3 << 8) | 20, 20, flags, method, 0, 0)
    write32(head, 16, crc, packedSize, size)
    write16(head, 28, name.length, 0, 0, 0, 0)
    write32(head, 38, (mode << 16) >>> 0, offset)
    directory.push(head, name)
  }
  const size = directory.reduce((sum, part) => sum + part.length, 0)
  const end = Buffer.alloc(22)
  end.writeUInt32LE(0x06054b50, 0)
  write16(end, 8, Math.min(entries.length, 0xffff), Math.min(entries.length, 0xffff))
  write32(end, 12, size, at)
  write16(end, 20, comment.length)
  return Buffer.concat([...parts, ...directory, end, Buffer.from(comment), Buffer.from(after)])
}

function write16(buffer: Buffer, at: number, ...values: number[]): void {
  values.forEach((value, index) => buffer.writeUInt16LE(value, at + 2 * index))
}

function write32(buffer: Buffer, at: number, ...values: number[]): void {
  values.forEach((value, index) => buffer.writeUInt32LE(value, at + 4 * index))
}
