/** The sentence beside each field that cannot be used, as the server would write it. */
export function showFieldProblems(form: HTMLFormElement, problems: Readonly<Record<string, string>>): void {
  for (const control of form.querySelectorAll<HTMLInputElement | HTMLSelectElement>('input[name], select[name]')) {
    const field = control.closest('.field')
    if (!field) continue
    const said = problems[control.name] ?? ''
    const id = `${control.id}-problem`
    const old = field.querySelector('.problem')
    if ((old?.textContent ?? '') === said) continue
    old?.remove()
    field.classList.toggle('has-problem', said !== '')
    control.removeAttribute('aria-invalid')
    if (said !== '') {
      control.setAttribute('aria-invalid', 'true')
      const line = document.createElement('p')
      line.className = 'problem'
      line.id = id
      line.textContent = said
      control.before(line)
    }
    const hint = field.querySelector('.hint')?.id ?? ''
    const described = [hint, said === '' ? '' : id].filter(Boolean).join(' ')
    if (described === '') control.removeAttribute('aria-describedby')
    else control.setAttribute('aria-describedby', described)
  }
}
