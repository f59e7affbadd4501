import { draftOn } from '../../../shared/draft/edit/bench.ts'
import type { Desk } from './desk.ts'
import { type Keeper, post } from './keep.ts'
import { keepWords } from './keep-words.ts'
import type { LocalShelf, LocalWords } from './local-copy.ts'

/** Keeps what lies on the bench as a revision; when others came meanwhile it says so first, and both are kept. */
export function listenToRevision(
  root: HTMLElement,
  desk: Desk,
  keeper: Keeper,
  newestOpened: number,
  shelf: LocalShelf<LocalWords>,
): void {
  const form = root.querySelector<HTMLFormElement>('[data-bench-keep]')!
  const note = root.querySelector<HTMLTextAreaElement>('[data-bench-note]')!
  const problem = root.querySelector<HTMLElement>('[data-bench-problem="keep"]')!
  let newest = newestOpened
  let busy = false

  const say = (text: string) => {
    problem.textContent = text
    problem.hidden = text === ''
  }
  const box = {
    ...{ area: note, name: 'What changed', isForMark: false },
    returned: root.querySelector<HTMLElement>('[data-bench-returned="note"]')!,
    words: { what: 'words', done: 'kept with a revision', first: 'Keep or clear those first.' },
    isTyped: () => note.value !== '',
    put: (text: string) => void (note.value = text),
  }
  const notices = root.querySelector<HTMLElement>('[data-bench-notices]')!
  const noteTyped = keepWords(box, desk, shelf, notices)
  note.addEventListener('input', noteTyped)
  form.addEventListener('submit', (event) => {
    event.preventDefault()
    if (!busy) void keep()
  })
  const keep = async () => {
    busy = true
    const { edits } = desk
    say('')
    try {
      const answer = await post(`${root.dataset.base}/revision`, {
        document: draftOn(desk.bench),
        note: note.value,
        newest,
      })
      const body = answer.headers.get('content-type')?.includes('json')
        ? ((await answer.json()) as { path?: string; why?: string; newest?: number })
        : {}
      if (answer.status === 201 && body.path) {
        keeper.stop(edits)
        // They stand with the revision now; what is kept when the page goes is what stands in the box then.
        note.value = ''
        location.assign(body.path)
        return
      }
      newest = body.newest ?? newest
      say(body.why ?? `The notebook did not take it (${answer.status}); your working copy stays.`)
    } catch {
      say('The notebook cannot be reached, so this is no revision yet; what lies here is kept in this browser.')
    } finally {
      busy = false
    }
  }
}
