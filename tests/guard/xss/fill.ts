import { hasLines, isClosed, mostOf, NEEDED } from './fields.ts'
import type { Payload } from './payloads.ts'
import { routeOf, type Answer, type Detector, type Form, type Target } from './target.ts'

/** Payloads that go into one value: as many as two fields of 120 characters take. What must stand at the start stands alone. */
export function groupPayloads(payloads: readonly Payload[], most = 230): string[][] {
  const groups: string[][] = []
  let size = Infinity
  for (const { family, text } of payloads) {
    const isAlone = family === 'cells of a table program' || /^(javascript|data):/i.test(text)
    if (isAlone || size + text.length + 1 > most) groups.push([])
    size = isAlone ? Infinity : (groups.at(-1)!.length === 0 ? 0 : size + 1) + text.length
    groups.at(-1)!.push(text)
  }
  return groups
}

/** What is typed into a field: every payload of the group that fits. */
function wordsFor(name: string, group: readonly string[]): string {
  if (hasLines(name)) return group.map((text) => text.replace(/[\u0000-\u0008\u000b-\u001f]/g, '')).join('\n\n')
  const plain = group.map((text) => text.replace(/[\p{Cc}\u2028\u2029]/gu, ' ').trim())
  const most = mostOf(name)
  const fitting = plain.filter((text) => text.length <= most)
  while (fitting.join(' ').length > most) fitting.pop()
  // What does not fit is refused, and seen in the form that comes back; something has to stand here all the same.
  return fitting.join(' ') || 'words'
}

export interface Filled {
  /** Route → names of the fields that took the words. */
  readonly fields: Map<string, Set<string>>
  readonly troubles: string[]
}

/** Fills in the forms of the program as a person would, and keeps every page that came of it. */
export function createFiller(target: Target, detector: Detector, keep: (where: string, answer: Answer) => void) {
  const forms = new Map<string, Form>()
  const filled: Filled = { fields: new Map(), troubles: [] }

  /** The form of a page that goes to this route; it is looked up once, for it is the same for every thing. */
  async function formAt(page: string, route: string, as: string): Promise<Form> {
    const key = `${routeOf('GET', page)} ${route}`
    const known = forms.get(key)
    if (known) return known
    const answer = await target.send(page, as)
    const found = (await detector.listForms(answer.text)).find(
      ({ method, action }) => method === 'POST' && routeOf('POST', action) === route,
    )
    if (!found) throw new Error(`${page} (${answer.status}) has no form for ${route}. ${filled.troubles.join(' ')}`)
    forms.set(key, found)
    return found
  }

  /**
   * Sends the form as it is taken, and where `wrong` is given before that with it in every field, closed ones too, for the
   * page that comes back.
   * @param given what is chosen; a field that is given takes no words
   */
  async function fill(
    page: string,
    action: string,
    group: readonly string[],
    given: Readonly<Record<string, string>> = {},
    { as = 'owner', expected = 303, wrong = '' } = {},
  ): Promise<Answer> {
    const route = routeOf('POST', action)
    const form = await formAt(page, route, as)
    const chosen = { ...NEEDED[route], ...given }
    const body = (isWrong: boolean) => {
      const fields = new URLSearchParams()
      for (const { name, value, takesWords, isHidden } of form.fields) {
        if (isHidden) fields.append(name, chosen[name] ?? value)
        else if (takesWords && (isWrong || !isClosed(name)) && chosen[name] !== '' && (isWrong || !(name in chosen)))
          fields.append(name, isWrong ? wrong : wordsFor(name, group))
        else fields.append(name, chosen[name] ?? value)
      }
      for (const [name, value] of Object.entries(chosen)) if (!fields.has(name)) fields.append(name, value)
      return fields
    }
    const names = form.fields.filter((each) => each.takesWords && !each.isHidden).map(({ name }) => name)
    for (const name of names) filled.fields.set(route, (filled.fields.get(route) ?? new Set()).add(name))
    if (!filled.fields.has(route)) filled.fields.set(route, new Set())
    if (wrong !== '') keep(`${route}, shown again`, await target.send(action, as, body(true)))
    const answer = await target.send(action, as, body(false))
    keep(route, answer)
    if (answer.status !== expected)
      filled.troubles.push(
        `${route} was answered with ${answer.status} to ${group.join(' ')}: ${sayProblems(answer.text)}`,
      )
    return answer
  }

  return { fill, filled }
}

const sayProblems = (text: string) =>
  [...text.matchAll(/class="problem" id="([^"]*)">([^<]*)/g)].map(([, id, what]) => `${id}: ${what}`).join(' ') ||
  /<main[^]*/.exec(text)?.[0].slice(0, 300)
