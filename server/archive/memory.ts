import { getHeapStatistics } from 'node:v8'
import { HttpError } from '../errors.ts'
import { MOST_JSON_BYTES } from './limit.ts'

/**
 * Memory that a byte of JSON takes while it is read, checked and compared: measured with small records, which take most,
 * and with a problem in each, which takes as much again, under a limit of 96 MB. A process without memory is ended by the system, and everybody's page with it.
 */
const MEMORY_PER_BYTE = 40

/** @throws HttpError 413 where this many bytes of JSON would be more than the memory holds */
export function refuseBeyondMemory(name: string, bytes: number): void {
  const { heap_size_limit: limit, used_heap_size: used } = getHeapStatistics()
  const most = Math.min(MOST_JSON_BYTES, Math.floor((limit - used) / MEMORY_PER_BYTE))
  if (bytes <= most) return
  throw new HttpError(
    413,
    `${name} holds ${sayMegabytes(bytes)} of words, and the program has the memory for ${sayMegabytes(most)}. Bring the archive in on a machine with more memory, or in parts: the archives of single pieces. Nothing was changed.`,
  )
}

const sayMegabytes = (bytes: number) => `${(bytes / 1e6).toFixed(1)} MB`
