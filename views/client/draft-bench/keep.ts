import { benchOf } from '../../../shared/draft/edit/bench.ts'
import { keepAt } from '../../../shared/draft/edit/keep-pace.ts'
import { type Edit, layWhole } from '../../../shared/draft/edit/step.ts'
import type { Draft } from '../../../shared/draft/draft.ts'
import type { Desk } from './desk.ts'
import type { CopyShelf, HeldCopy } from './local-copy.ts'
import { ask, timeOf } from './notice.ts'
import { offerCopies, saysTheSame } from './offer-copies.ts'
import { draftWriter } from './write-draft.ts'

/** What the bench opens with. */
export interface Opened {
  readonly document: Draft
  readonly base: number
  readonly newest: number
  readonly version: number
  readonly savedAt: string
}

const TRY_AGAIN_MS = 8000
/** A notebook that says nothing for so long is not reached. */
const ANSWER_MS = 30_000
/** After this, what is on the way to it is held here too. */
const LATE_MS = 400

export interface Keeper {
  /** Revision that the working copy began from. */
  readonly base: number
  /** Whether everything that was done is kept on the server. */
  isKept(): boolean
  /** A revision was made of what lay here after so many edits: only what came after them is left to keep. */
  stop(edits: number): void
}

/**
 * Keeps the working copy: on the server while it can be reached, in this browser when it cannot. Another window of the
 * same maker is never written over; both drafts stay in reach by undo and redo.
 */
export function keepWorkingCopy(root: HTMLElement, desk: Desk, opened: Opened, shelf: CopyShelf): Keeper {
  const state = root.querySelector<HTMLElement>('[data-bench-kept]')!
  const notices = root.querySelector<HTMLElement>('[data-bench-notices]')!
  const address = root.dataset.base!
  const writeOut = draftWriter(opened.document, desk.bench)
  /** Copies of earlier visits that were taken up, and after how many edits: they stay until that is kept. */
  let taken: { readonly edit: Edit; readonly edits: number; readonly clear: () => void }[] = []
  let { version, base } = opened
  let kept = desk.edits
  /** As many edits are in the copy that this browser holds. */
  let held = -1
  let due = 0
  /** When the first edit was made that no attempt to keep has seen. */
  let first: number | undefined
  let last = 0
  let sending = false
  let paused = false
  let stopped = false
  let leaving = false

  const say = (text: string) => {
    if (state.textContent !== text) state.textContent = text
  }
  const plan = (wait: number) => {
    clearTimeout(due)
    if (!stopped) due = setTimeout(() => void attempt(), wait) as unknown as number
  }
  const planUnseen = () => plan(first === undefined ? 0 : Math.max(0, keepAt(first, last) - performance.now()))
  const copyNow = (): HeldCopy => ({ bench: desk.bench, base, savedAt: new Date().toISOString() })
  /** @returns false when this browser has no room for it */
  const hold = async () => {
    const { edits } = desk
    if (stopped || edits === kept || edits === held) return true
    const isHeld = await shelf.hold(copyNow())
    if (isHeld) held = edits
    return isHeld
  }
  const atHome = async (why: string) =>
    say(
      (await hold())
        ? `${why} It is kept in this browser until the notebook takes it.`
        : `${why} This browser has no room for it either.`,
    )
  const keptUpTo = (edits: number) => {
    kept = edits
    // What was done since lies there perhaps, because the notebook took its time.
    if (desk.edits === edits) {
      held = -1
      shelf.clear()
    }
    // One that was taken back again stays in the browser.
    const isKept = (one: (typeof taken)[number]) => one.edits <= edits && isDone(desk, one.edit)
    for (const one of taken.filter(isKept)) one.clear()
    taken = taken.filter((one) => !isKept(one))
  }

  /** While the notebook has not answered, or the maker has not, this browser holds what is done meanwhile. */
  const attempt = async () => {
    first = undefined
    if (sending || paused) await hold()
    else await send()
  }

  const send = async () => {
    if (sending || paused || stopped) return
    const edits = desk.edits
    if (edits === kept) return
    sending = true
    first = undefined
    say('Keeping …')
    const late = setTimeout(() => void hold(), LATE_MS)
    try {
      const document = await writeOut(desk.bench)
      const answer = await post(`${address}/copy`, { document, base, version }, AbortSignal.timeout(ANSWER_MS))
      if (stopped) return
      if (answer.status === 200) {
        const body = (await answer.json()) as { version: number; savedAt: string }
        version = body.version
        keptUpTo(edits)
        say(`Working copy kept at ${timeOf(body.savedAt)}.`)
      } else if (answer.status === 409) await meetOther(document, edits)
      else {
        await atHome(sayRefusal(answer.status))
        plan(TRY_AGAIN_MS)
      }
    } catch {
      // Nothing came back: the notebook is not running, or the line is down.
      if (!stopped) {
        await atHome('The notebook cannot be reached.')
        plan(TRY_AGAIN_MS)
      }
    } finally {
      clearTimeout(late)
      sending = false
      if (desk.edits !== edits && !paused) planUnseen()
    }
  }

  /** Another window has kept something else meanwhile: the maker says which goes on; the other stays in reach. */
  const meetOther = async (sent: Draft, edits: number) => {
    const answer = await fetch(`${address}/copy.json`)
    if (!answer.ok) throw new Error(`copy.json answered ${answer.status}`)
    const theirs = (await answer.json()) as Opened
    if (saysTheSame(theirs.document, sent)) {
      // The other one is this one: it was taken, and the answer was lost on the way.
      ;({ version, base } = theirs)
      keptUpTo(edits)
      return say(`Working copy kept at ${timeOf(theirs.savedAt)}.`)
    }
    paused = true
    await atHome('Another window has gone on with this working copy.')
    const other = benchOf(theirs.document)
    const resume = (takeTheirs: boolean) => {
      desk.make(layWhole(desk.bench, other, 'the draft of the other window'))
      if (!takeTheirs) desk.undo()
      ;({ version, base } = theirs)
      paused = false
      // What was taken up before is in reach of Undo only; so it stays in the browser too.
      if (takeTheirs) taken = []
      if (takeTheirs) keptUpTo(desk.edits)
      else kept = -1
      say(takeTheirs ? `Working copy kept at ${timeOf(theirs.savedAt)}.` : '')
      desk.tell(
        takeTheirs ? 'Taken up. Undo brings back what lay here.' : 'What lies here goes on. Redo brings the other one.',
      )
      plan(0)
    }
    ask(
      notices,
      'Another window of yours has gone on with this working copy. Which one goes on? The other stays in reach by Undo or Redo.',
      [
        ['Take up the other one', () => resume(true)],
        ['Go on with this one', () => resume(false)],
      ],
    )
  }

  void offerCopies(shelf, opened.document, notices, desk, (edit, clear) =>
    taken.push({ edit, edits: desk.edits, clear }),
  )
  if (opened.version > 0) say(`Working copy of ${timeOf(opened.savedAt)}.`)
  desk.listen(({ kind }) => {
    if (kind !== 'edit') return
    last = performance.now()
    first ??= last
    planUnseen()
  })
  addEventListener('online', () => plan(0))
  // A tab that closes: what has not gone out stays in the browser. That is sure; a message that
  // begins now may come home or not, so none does.
  addEventListener('pagehide', () => {
    leaving = true
    if (desk.edits !== kept && desk.edits !== held) shelf.holdNow(copyNow())
  })
  addEventListener('pageshow', () => (leaving = false))
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden' && !leaving) void send()
  })
  return {
    get base() {
      return base
    },
    isKept: () => desk.edits === kept,
    stop(edits) {
      stopped = true
      clearTimeout(due)
      keptUpTo(edits)
    },
  }
}

/** Whether an edit was made and is not undone. */
function isDone({ history }: Desk, edit: Edit): boolean {
  for (let at = history.done; at; at = at.below) if (at.edit === edit) return true
  return false
}

export const post = (address: string, body: unknown, signal: AbortSignal | null = null): Promise<Response> =>
  fetch(address, {
    ...{ method: 'POST', headers: { 'Content-Type': 'application/json' } },
    ...{ body: JSON.stringify(body), signal },
  })

function sayRefusal(status: number): string {
  if (status === 401 || status === 403) return 'You are not signed in any more; sign in in another window.'
  if (status === 404) return 'This draft is not yours to change any more, or it is in the bin.'
  if (status === 413) return 'This draft is more than a working copy may be.'
  return `The notebook did not take it (${status}).`
}
