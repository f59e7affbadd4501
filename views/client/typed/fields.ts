/** One field of a form as it was typed, with what a reader needs to know it again. */
export interface TypedField {
  readonly label: string
  readonly value: string
  /** The value in words, where it is no text: the option chosen, ticked or not. */
  readonly says: string
}
export type TypedFields = Readonly<Record<string, TypedField>>

type Control = HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement

/** Never kept: what is secret, what is no text, and what the page itself put there. */
const NEVER = new Set(['password', 'file', 'hidden', 'submit', 'button', 'image', 'reset'])
const SECRET = /one-time-code|-password/

/** Passwords stand in the form, or the form says of itself that it is not to be kept. */
export const isUnkept = (form: HTMLFormElement): boolean =>
  'unkept' in form.dataset || form.querySelector('input[type="password"]') !== null

function controlsOf(form: HTMLFormElement): readonly (readonly [name: string, control: Control])[] {
  const seen = new Map<string, number>()
  return [...form.elements].flatMap((element): (readonly [string, Control])[] => {
    if (!isControl(element)) return []
    if (element.type === 'radio' || element.type === 'checkbox') {
      const name = element.type === 'radio' ? element.name : `${element.name}=${element.value}`
      return [[name, element]]
    }
    const before = seen.get(element.name) ?? 0
    seen.set(element.name, before + 1)
    return [[before === 0 ? element.name : `${element.name} ${before + 1}`, element]]
  })
}

function isControl(element: Element): element is Control {
  const isOne =
    element instanceof HTMLInputElement ||
    element instanceof HTMLTextAreaElement ||
    element instanceof HTMLSelectElement
  if (!isOne || element.name === '' || element.hidden || NEVER.has(element.type)) return false
  return !(SECRET.test(element.autocomplete) || ('readOnly' in element && element.readOnly))
}

/** What stands in a field now; undefined for a radio button that is not the chosen one. */
function valueOf(control: Control): string | undefined {
  if (!(control instanceof HTMLInputElement)) return control.value
  if (control.type === 'radio') return control.checked ? control.value : undefined
  if (control.type === 'checkbox') return control.checked ? 'yes' : ''
  return control.value
}

/** What stood in it when the page came. */
function openedWith(control: Control): string | undefined {
  if (control instanceof HTMLSelectElement)
    return ([...control.options].find((option) => option.defaultSelected) ?? control.options[0])?.value ?? ''
  if (control instanceof HTMLTextAreaElement) return control.defaultValue
  if (control.type === 'radio') return control.defaultChecked ? control.value : undefined
  if (control.type === 'checkbox') return control.defaultChecked ? 'yes' : ''
  return control.defaultValue
}

/**
 * What was typed: each field that says something else than the page did when it came.
 * @param also fields that count as typed whatever they say: an earlier page of this form had them otherwise
 */
export function readTyped(form: HTMLFormElement, also: ReadonlySet<string>): TypedFields {
  const changed = new Set(also)
  const now = new Map<string, TypedField>()
  for (const [name, control] of controlsOf(form)) {
    const value = valueOf(control)
    if (value !== openedWith(control)) changed.add(name)
    if (value !== undefined) now.set(name, { label: labelOf(control), value, says: sayValue(control) })
  }
  return Object.fromEntries([...now].filter(([name]) => changed.has(name)))
}

/** Of what was kept, what the form does not say at this moment. */
export function listMissing(form: HTMLFormElement, kept: TypedFields): readonly TypedField[] {
  const now = new Map<string, string>()
  for (const [name, control] of controlsOf(form)) {
    const value = valueOf(control)
    if (value !== undefined) now.set(name, value)
  }
  return Object.entries(kept).flatMap(([name, field]) => (now.get(name) === field.value ? [] : [field]))
}

/**
 * Puts what was kept into the form, and lets everything that listens know.
 * @returns the first field that was filled, and what found no place because the form has no such field or choice now
 */
export function putBack(
  form: HTMLFormElement,
  kept: TypedFields,
): { readonly first: Control | undefined; readonly homeless: readonly TypedField[] } {
  const homeless: TypedField[] = []
  let first: Control | undefined
  for (const [name, field] of Object.entries(kept)) {
    const control = controlsOf(form).find(([own, each]) => own === name && takes(each, field.value))?.[1]
    if (!control) {
      homeless.push(field)
      continue
    }
    if (valueOf(control) === field.value) continue
    if (control instanceof HTMLInputElement && control.type === 'radio') control.checked = true
    else if (control instanceof HTMLInputElement && control.type === 'checkbox') control.checked = field.value !== ''
    else control.value = field.value
    for (let box = control.closest('details'); box; box = box.parentElement?.closest('details') ?? null) box.open = true
    for (const type of ['input', 'change']) control.dispatchEvent(new Event(type, { bubbles: true }))
    first ??= control
  }
  return { first, homeless }
}

function takes(control: Control, value: string): boolean {
  if (control instanceof HTMLSelectElement) return [...control.options].some((option) => option.value === value)
  return !(control instanceof HTMLInputElement && control.type === 'radio') || control.value === value
}

function labelOf(control: Control): string {
  const isRadio = control instanceof HTMLInputElement && control.type === 'radio'
  const legend = isRadio ? control.closest('fieldset')?.querySelector('legend') : undefined
  const label = (legend ?? control.labels?.[0])?.cloneNode(true)
  if (!(label instanceof Element)) return control.name
  for (const needed of label.querySelectorAll('.needed')) needed.remove()
  return label.textContent.replace(/\s+/g, ' ').trim() || control.name
}

function sayValue(control: Control): string {
  if (control instanceof HTMLSelectElement) return control.selectedOptions[0]?.textContent.trim() ?? ''
  if (!(control instanceof HTMLInputElement)) return ''
  if (control.type === 'checkbox') return control.checked ? 'ticked' : 'not ticked'
  return control.type === 'radio' ? (control.labels?.[0]?.textContent.trim() ?? '') : ''
}
