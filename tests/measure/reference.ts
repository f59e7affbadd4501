import { readFileSync } from 'node:fs'
import { expect } from 'vitest'

/** Published values kept beside the tests, with their sources; numbers are strings where digits matter. */
export function readReference<T>(path: string): T {
  return JSON.parse(readFileSync(new URL(`../${path}`, import.meta.url), 'utf8')) as T
}

/** Holds when `actual` is within `tolerance` of `expected`, as a share of it. */
export function expectWithin(actual: number | null | undefined, expected: number | string, tolerance: number): void {
  expect(actual).toBeTypeOf('number')
  const wanted = Number(expected)
  const share = Math.abs((Number(actual) - wanted) / (wanted === 0 ? 1 : wanted))
  expect(share, `${actual} against ${expected}`).toBeLessThanOrEqual(tolerance)
}
