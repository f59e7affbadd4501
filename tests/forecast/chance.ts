/** Numbers that look like chance and are the same every time: normally distributed, mean 0 and spread 1. */
export function normals(seed: number): () => number {
  let state = seed >>> 0
  const even = () => {
    // Mulberry32, in the public domain, from memory.
    state = (state + 0x6d2b79f5) >>> 0
    let mixed = Math.imul(state ^ (state >>> 15), state | 1)
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296
  }
  return () => Math.sqrt(-2 * Math.log(1 - even())) * Math.cos(2 * Math.PI * even())
}
