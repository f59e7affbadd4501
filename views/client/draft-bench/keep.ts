import { benchOf, draftOn } from '../../../shared/draft/edit/bench.ts'
import { layWhole } from '../../../shared/draft/edit/step.ts'
import { readDraft } from '../../../shared/draft/document.ts'
import type { Draft } from '../../../shared/draft/draft.ts'
import type { Desk } from './desk.ts'
import type { LocalShelf } from './local-copy.ts'

/** What the bench opens with. */
export interface Opened {
  readonly document: Draft
  readonly base: number
  readonly newest: number
  readonly version: number
  readonly savedAt: string
}

/** Nothing that was done is lost for longer than this. */
const KEEP_MS = 1200
const TRY_AGAIN_MS = 8000

export interface Keeper {
  /** Revision that the working copy began from. */
  readonly base: number
  /** Whether everything that was done is kept on the server. */
  isKept(): boolean
  /** A revision was made of it: nothing is left to keep. */
  stop(): void
}

/**
 * Keeps the working copy: on the server while it can be reached, in this browser when it cannot. Another window of the
 * same maker is never written over; both drafts stay in reach by undo and redo.
 */
export function keepWorkingCopy(root: HTMLElement, desk: Desk, opened: Opened, shelf: LocalShelf): Keeper {
  const state = root.querySelector<HTMLElement>('[data-bench-kept]')!
  const notices = root.querySelector<HTMLElement>('[data-bench-notices]')!
  const address = root.dataset.base!
  let { version, base } = opened
  let kept = desk.edits
  let due = 0
  let sending = false
  let paused = false
  let stopped = false

  const say = (text: string) => {
    if (state.textContent !== text) state.textContent = text
  }
  const plan = (wait: number) => {
    clearTimeout(due)
    if (!paused && !stopped) due = setTimeout(() => void send(), wait) as unknown as number
  }
  const atHome = (why: string) => {
    const held = shelf.write({ document: draftOn(desk.bench), base, savedAt: new Date().toISOString() })
    say(
      held
        ? `${why} It is kept in this browser until the notebook takes it.`
        : `${why} This browser has no room for it either.`,
    )
  }

  const send = async () => {
    if (sending || paused || stopped) return
    const edits = desk.edits
    if (edits === kept) return
    sending = true
    say('Keeping …')
    try {
      const answer = await post(`${address}/copy`, { document: draftOn(desk.bench), base, version })
      if (stopped) return
      if (answer.status === 200) {
        const body = (await answer.json()) as { version: number; savedAt: string }
        version = body.version
        kept = edits
        shelf.clear()
        say(`Working copy kept at ${timeOf(body.savedAt)}.`)
      } else if (answer.status === 409) await meetOther()
      else {
        atHome(sayRefusal(answer.status))
        plan(TRY_AGAIN_MS)
      }
    } catch {
      // Nothing came back: the notebook is not running, or the line is down.
      if (!stopped) {
        atHome('The notebook cannot be reached.')
        plan(TRY_AGAIN_MS)
      }
    } finally {
      sending = false
      if (desk.edits !== edits && !paused) plan(KEEP_MS)
    }
  }

  /** Another window has kept something else meanwhile: the maker says which goes on; the other stays in reach. */
  const meetOther = async () => {
    paused = true
    atHome('Another window has gone on with this working copy.')
    const theirs = (await (await fetch(`${address}/copy.json`)).json()) as Opened
    const other = benchOf(theirs.document)
    const resume = (takeTheirs: boolean) => {
      desk.make(layWhole(desk.bench, other, 'the draft of the other window'))
      if (!takeTheirs) desk.undo()
      version = theirs.version
      base = theirs.base
      kept = takeTheirs ? desk.edits : -1
      paused = false
      if (takeTheirs) shelf.clear()
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

  offerLocal(shelf, opened, notices, desk)
  if (opened.version > 0) say(`Working copy of ${timeOf(opened.savedAt)}.`)
  desk.listen(({ kind }) => {
    if (kind === 'edit') plan(KEEP_MS)
  })
  addEventListener('online', () => plan(0))
  // A tab that closes: what has not gone out stays in the browser, and is tried once more on the way.
  addEventListener('pagehide', () => {
    if (stopped || desk.edits === kept) return
    const document = draftOn(desk.bench)
    shelf.write({ document, base, savedAt: new Date().toISOString() })
  })
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') void send()
  })
  return {
    get base() {
      return base
    },
    isKept: () => desk.edits === kept,
    stop() {
      stopped = true
      clearTimeout(due)
      shelf.clear()
    },
  }
}

/**
 * What an earlier visit could not hand over is offered, never laid over silently. Until that is answered it stays in
 * this browser, whatever is done on the bench meanwhile.
 */
function offerLocal(shelf: LocalShelf, opened: Opened, notices: HTMLElement, desk: Desk): void {
  const { found } = shelf
  const last = shelf.read()
  if (last && !found.read() && found.write(last)) shelf.clear()
  for (const place of [found, shelf]) {
    const local = place.read()
    if (!local) continue
    const read = readDraft(local.document)
    if (!read.ok || JSON.stringify(read.draft) === JSON.stringify(opened.document)) {
      place.clear()
      continue
    }
    const takeUp = () => {
      desk.make(layWhole(desk.bench, benchOf({ ...read.draft, title: desk.bench.title }), 'the copy of this browser'))
      desk.settle()
      place.clear()
    }
    ask(notices, `This browser holds a copy of ${timeOf(local.savedAt)} that the notebook never got.`, [
      ['Take it up', takeUp],
      ['Throw it away', () => place.clear()],
    ])
  }
}

/** A question above the bench; whatever is chosen, it is gone then. */
function ask(notices: HTMLElement, text: string, choices: readonly (readonly [string, () => void])[]): void {
  const box = document.createElement('div')
  box.className = 'notice bench-copy'
  box.setAttribute('role', 'status')
  const words = document.createElement('span')
  words.textContent = text
  box.append(words)
  for (const [label, choose] of choices) {
    const button = document.createElement('button')
    button.type = 'button'
    button.className = 'quiet'
    button.textContent = label
    button.addEventListener('click', () => {
      box.remove()
      choose()
    })
    box.append(button)
  }
  notices.append(box)
}

const timeOf = (instant: string) =>
  new Date(instant).toLocaleString('en-GB', { hour: '2-digit', minute: '2-digit', day: 'numeric', month: 'short' })

export const post = (address: string, body: unknown): Promise<Response> =>
  fetch(address, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) })

function sayRefusal(status: number): string {
  if (status === 401 || status === 403) return 'You are not signed in any more; sign in in another window.'
  if (status === 404) return 'This draft is not yours to change any more, or it is in the bin.'
  if (status === 413) return 'This draft is more than a working copy may be.'
  return `The notebook did not take it (${status}).`
}
