/**
 * The value of a form that was filled from the demo collection.
 * @throws Error with what was refused and why
 */
export function accept<V>(what: string, form: { ok: true; value: V } | ({ ok: false } & Refused)): V {
  if (form.ok) return form.value
  const problems = JSON.stringify({ ...form.problems, ...form.rowProblems })
  throw new Error(`The demo collection has a ${what} that its form refuses: ${problems}`)
}

interface Refused {
  readonly problems: object
  readonly rowProblems?: readonly object[]
}
