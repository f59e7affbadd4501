import type { Draft } from '../../shared/draft/draft.ts'
import { lookOver } from './draft-bench/look-over.ts'
import type { Turning } from '../../shared/draft/woven.ts'

/** Looks a long draft over beside the page, so that the hand is never kept waiting by it. */
interface Beside {
  onmessage: ((event: MessageEvent<{ draft: Draft; turning: Turning }>) => void) | null
  postMessage(message: unknown): void
}
const beside = globalThis as unknown as Beside
beside.onmessage = ({ data: { draft, turning } }) => beside.postMessage(lookOver(draft, turning))
