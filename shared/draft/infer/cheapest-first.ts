/** A heap that gives back the cheapest of what was put into it; of equally cheap ones, any. */
export class CheapestFirst<T extends { readonly bound: number }> {
  private readonly heap: T[] = []

  add(one: T): void {
    const { heap } = this
    let at = heap.length
    heap.push(one)
    while (at > 0) {
      const above = (at - 1) >> 1
      if (heap[above]!.bound <= one.bound) break
      heap[at] = heap[above]!
      at = above
    }
    heap[at] = one
  }

  take(): T | undefined {
    const { heap } = this
    const first = heap[0]
    const last = heap.pop()
    if (heap.length === 0 || !last) return first
    let at = 0
    for (;;) {
      let below = 2 * at + 1
      if (below >= heap.length) break
      if (below + 1 < heap.length && heap[below + 1]!.bound < heap[below]!.bound) below++
      if (heap[below]!.bound >= last.bound) break
      heap[at] = heap[below]!
      at = below
    }
    heap[at] = last
    return first
  }
}
