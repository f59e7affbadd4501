import type { CountReading } from '../../shared/yarn/count-reading.ts'
import { readCount } from '../../shared/yarn/written-count.ts'

/** The name of a reading, which stays the same whatever others there are beside it. */
export const readingKey = ({ system, value, ply, of }: CountReading): string => `${system} ${value} ${ply} ${of}`

/** What a count that was accepted says; undefined when it is not known. */
export function readingOf(count: string, key: string): CountReading | undefined {
  if (count === '') return undefined
  const read = readCount(count)
  if (read.ok) return read.reading
  return 'readings' in read ? read.readings.find((reading) => readingKey(reading) === key) : undefined
}
