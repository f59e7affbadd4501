import { TOLERATED_MS } from '../../../shared/loom/clock.ts'
import { isStepName, type KeptStep, pieceShelfOf, placeOfStep, readKept, shelfOf } from '../../../shared/loom/queue.ts'
import { isLater, type StepKind } from '../../../shared/loom/step.ts'
import type { Standing } from '../../../shared/loom/view.ts'
import { type Drawer, newUid, type Outcome } from './drawer.ts'

export interface Whose {
  readonly base: string
  readonly piece: string
  /** 0 for the lone maker. */
  readonly member: number
  readonly revision: number
  readonly zone: string
}

/** What this device keeps of one piece: steps that are not sent, and where the work stands. */
export interface Keeper {
  readonly device: string
  readonly standing: () => Standing
  /** Keeps a step at once. */
  keep(kind: StepKind, place: number, note?: string): Outcome
  pending(): KeptStep[]
  /** Steps of other members that wait on this device. */
  countOthers(): number
  /** Takes away what the server has; `isOut`: what it refused, which stays under another name. */
  settle(steps: readonly KeptStep[], isOut?: boolean): void
  /** What the server says of where the work stands, and its clock. @returns a later step of another device */
  learn(latest: Standing | null, offsetMs: number): Standing | undefined
  adopt(standing: Standing): void
  /** Another tab of this browser has moved on. */
  onMoved(then: () => void): void
}

export function openKeeper(drawer: Drawer, whose: Whose, given: Standing | null): Keeper {
  const shelf = shelfOf(whose.base)
  const own = pieceShelfOf(whose.base, whose.piece, whose.member)
  const lastName = `${own}last`
  const device = deviceOf(drawer, `${shelf}device`)
  let offsetMs = 0
  let told = given
  let standing = laterOf(given, readStanding(drawer.read(lastName))) ?? nowhere(device)

  const pending = () =>
    drawer.list(`${own}step:`).flatMap((name) => {
      const step = readKept(drawer.read(name) ?? '')
      return step ? [step] : []
    })
  const stand = (next: Standing) => {
    standing = next
    drawer.write(lastName, JSON.stringify(next))
  }
  /** What another tab has kept counts here too, before its message comes, and also where none does. */
  const current = () => (standing = laterOf(standing, readStanding(drawer.read(lastName))) ?? standing)
  const isRefused = (uid: string) => drawer.read(`${own}refused:${uid}`) !== undefined
  const nextSeq = () => {
    const name = `${shelf}seq`
    const seq = Number(drawer.read(name) ?? 0) + 1
    drawer.write(name, String(seq))
    return seq
  }

  return {
    device,
    standing: current,
    keep(kind, place, note = '') {
      const nowMs = Date.now()
      const correction = Math.abs(offsetMs) > TOLERATED_MS ? offsetMs : 0
      const atMs = Math.max(nowMs + correction, Date.parse(current().at) + 1)
      const step: KeptStep = {
        ...{ uid: newUid(), seq: nextSeq(), kind, place, note, zone: whose.zone, revision: whose.revision },
        ...{ deviceAt: new Date(nowMs).toISOString(), after: told?.at ?? null },
      }
      const outcome = drawer.write(placeOfStep(own, step), JSON.stringify(step))
      stand({ uid: step.uid, place, at: new Date(atMs).toISOString(), device, kind })
      return outcome
    },
    pending,
    countOthers() {
      const ofPiece = drawer.list(`${shelf}${whose.piece}:`)
      return ofPiece.filter((name) => isStepName(name) && !name.startsWith(own)).length
    },
    settle(steps, isOut = false) {
      for (const step of steps) {
        if (isOut) drawer.write(`${own}refused:${step.uid}`, JSON.stringify(step))
        drawer.remove(placeOfStep(own, step))
      }
    },
    learn(latest, offset) {
      offsetMs = offset
      told = latest
      if (latest === null || pending().length > 0) return undefined
      const here = current()
      // An answer that was under way while another tab went on is older than what stands here.
      if (latest.uid !== here.uid && !isLater(latest, here) && !isRefused(here.uid)) return undefined
      if (latest.uid === here.uid || latest.device === device) return void stand(latest)
      return latest
    },
    adopt: stand,
    onMoved(then) {
      addEventListener('storage', ({ key, newValue }) => {
        const moved = key === lastName ? readStanding(newValue ?? undefined) : undefined
        if (!moved || !isLater(moved, standing)) return
        standing = moved
        then()
      })
    },
  }
}

const nowhere = (device: string): Standing => ({
  ...{ uid: '0'.repeat(32), place: 0, at: new Date(0).toISOString(), device, kind: 'set' },
})

function laterOf(one: Standing | null, other: Standing | undefined): Standing | undefined {
  if (one === null) return other
  return other && isLater(other, one) ? other : one
}

function readStanding(text: string | undefined): Standing | undefined {
  if (text === undefined) return undefined
  try {
    const read = JSON.parse(text) as Partial<Standing> | null
    const isOne = typeof read?.uid === 'string' && typeof read.place === 'number' && typeof read.at === 'string'
    return isOne ? (read as Standing) : undefined
  } catch {
    return undefined
  }
}

function deviceOf(drawer: Drawer, name: string): string {
  const kept = drawer.read(name)
  if (kept !== undefined && /^[0-9a-f]{32}$/.test(kept)) return kept
  const made = newUid()
  drawer.write(name, made)
  return made
}
