/** Runs in a browser's page, on documents that are only parsed: what a page says of its forms, its problems and its tables. */
globalThis.inspect = (text) => {
  const document = new DOMParser().parseFromString(text, 'text/html')
  const said = (element) => (element?.textContent ?? '').replace(/\s+/g, ' ').trim()
  const isBefore = (one, other) => Boolean(one.compareDocumentPosition(other) & 4)
  const described = (control) =>
    (control.getAttribute('aria-describedby') ?? '')
      .split(' ')
      .filter(Boolean)
      .map((id) => [id, document.getElementById(id)])

  const fieldOf = (control) => {
    const faults = []
    const label =
      document.querySelector(`label[for="${CSS.escape(control.id || 'none')}"]`) ?? control.closest('label') ?? null
    const isTicked = control.type === 'checkbox' || control.type === 'radio'
    const isNamed = control.hasAttribute('aria-label') || control.hasAttribute('aria-labelledby')
    if (!label && !isNamed) faults.push('has no label')
    if (label && !isTicked && !isBefore(label, control)) faults.push('has its label behind it')
    if (label?.classList.contains('visually-hidden') && control.type !== 'search') faults.push('hides its label')
    if (control.hasAttribute('placeholder') && control.type !== 'search') faults.push('has a placeholder')
    for (const [id, element] of described(control)) {
      if (!element) faults.push(`is described by ${id}, which is not there`)
      else if (!isTicked && !isBefore(element, control)) faults.push(`has ${id} behind it`)
    }
    const isLine = control.localName === 'input' && ['text', 'password', 'email', 'url'].includes(control.type)
    if (isLine && !control.hasAttribute('autocomplete')) faults.push('has no autocomplete')
    if (control.type === 'password' && !/^(current|new)-password$/.test(control.getAttribute('autocomplete') ?? ''))
      faults.push('does not say which password it takes')
    return {
      name: control.name,
      id: control.id,
      type: control.localName === 'input' ? control.type : control.localName,
      inputmode: control.getAttribute('inputmode') ?? '',
      value: control.type === 'file' ? '' : control.value,
      isSent: !(isTicked && !control.checked),
      isHidden: control.type === 'hidden' || control.hidden,
      says: said(label),
      problem: described(control)
        .filter(([id]) => id.includes('problem'))
        .map(([, element]) => said(element))
        .join(' '),
      isInvalid: control.getAttribute('aria-invalid') === 'true',
      faults,
    }
  }

  const forms = [...document.forms].map((form) => ({
    method: (form.getAttribute('method') ?? 'get').toUpperCase(),
    action: form.getAttribute('action') ?? '',
    isFile: form.enctype === 'multipart/form-data',
    fields: [...form.elements]
      .filter((each) => each.name && each.localName !== 'button' && each.ariaHidden !== 'true')
      .map(fieldOf),
  }))

  const summary = document.querySelector('.problems')
  const problems = summary && {
    heading: said(summary.querySelector('h2')),
    takesFocus: summary.hasAttribute('autofocus') && summary.getAttribute('tabindex') === '-1',
    isFirst: ![...document.querySelectorAll('main form')].some((form) => isBefore(form, summary)),
    links: [...summary.querySelectorAll('a')].map((link) => {
      const target = document.getElementById((link.getAttribute('href') ?? '').slice(1))
      const takesFocus = target?.matches('input:not([type="hidden"]), select, textarea, a[href], button, [tabindex]')
      const beside = target ? described(target).map(([, element]) => said(element)) : []
      return {
        text: said(link),
        leads: Boolean(takesFocus),
        // Beside its field the place is said in fewer words, for the field is known there.
        isBeside: beside.some((words) =>
          words.includes(
            said(link)
              .replace(/^[^:]*: /, '')
              .replace(/ And \d+ more\.$/, ''),
          ),
        ),
        beside,
      }
    }),
  }

  // The paper of a quote is frozen word for word as it was sent.
  const tables = [...document.querySelectorAll('table:not(.paper-price)')].map((table) => {
    const faults = []
    const region = table.closest('[role="region"]')
    const isNamed =
      table.querySelector('caption') || table.hasAttribute('aria-labelledby') || table.hasAttribute('aria-label')
    const regionName = region?.getAttribute('aria-label') ?? region?.getAttribute('aria-labelledby')
    if (!isNamed && !(region && regionName)) faults.push('has no name')
    // A card is as wide as its paper, and does not scroll.
    const scrolls = !table.classList.contains('card')
    if (scrolls && (!region || region.getAttribute('tabindex') !== '0' || !regionName))
      faults.push('stands in no named region that scrolls')
    const heads = [...table.querySelectorAll('th')]
    if (heads.length === 0) faults.push('has no head')
    if (heads.some((each) => !each.hasAttribute('scope'))) faults.push('has a head without scope')
    return { says: said(table).slice(0, 60), faults }
  })

  const links = [...document.querySelectorAll('a[href^="/"]')].map((link) => link.getAttribute('href').split('#')[0])
  const empty = document.querySelector('.empty')
  return {
    title: document.title,
    forms,
    problems,
    tables,
    links: [...new Set(links)],
    empty: empty && { says: said(empty), actions: empty.querySelectorAll('a, button').length },
  }
}
