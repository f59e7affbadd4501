import { existsSync, readFileSync, statSync } from 'node:fs'
import { join } from 'node:path'

/** Memory that a process holds at the moment, in MB (of 1,048,576 bytes); Linux alone tells it in this way. */
export function memoryMb(pid: number, what: 'VmRSS' | 'VmHWM' = 'VmRSS'): number {
  const found = new RegExp(`${what}:\\s+(\\d+) kB`).exec(readFileSync(`/proc/${pid}/status`, 'utf8'))
  return Number(found?.[1]) / 1024
}

/** Of the log beside the database, in MB. */
export function logMb(dataDir: string): number {
  const file = join(dataDir, 'fellmark.db-wal')
  return existsSync(file) ? statSync(file).size / 1024 ** 2 : 0
}

/** The value below which this share of them lies; of an empty list NaN. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((left, right) => left - right)
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN
}

/** Least squares: how much y grows for each 1 of x. */
export function slope(points: readonly (readonly [x: number, y: number])[]): number {
  const mean = (at: 0 | 1) => points.reduce((sum, point) => sum + point[at], 0) / points.length
  const [x, y] = [mean(0), mean(1)]
  const above = points.reduce((sum, point) => sum + (point[0] - x) * (point[1] - y), 0)
  return above / points.reduce((sum, point) => sum + (point[0] - x) ** 2, 0)
}

export const wait = (ms: number) => new Promise<void>((resolve) => void setTimeout(resolve, ms))

/** What a process has had of the processor so far, its own and the system's for it, in ms; Linux counts in hundredths of a second. */
export function processorMs(pid: number): number {
  const [, fields = ''] = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')
  const [user, system] = fields.split(' ').slice(11, 13)
  return (Number(user) + Number(system)) * 10
}
