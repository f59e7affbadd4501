/* Runs in a browser, whose own parser says what a page is. No script of the page runs: DOMParser makes inert documents. */

const PLAIN_SCRIPT = /^(\/[\w.~-]+)*\/assets\/[\w/.-]+\.js\?v=[0-9a-f]+$/
const NEVER = new Set([
  ...['iframe', 'frame', 'frameset', 'object', 'embed', 'applet', 'base', 'style', 'template', 'xmp'],
  ...[
    'noembed',
    'noframes',
    'plaintext',
    'listing',
    'portal',
    'marquee',
    'video',
    'audio',
    'source',
    'track',
    'dialog',
  ],
  ...['math', 'foreignobject', 'animate', 'set', 'animatemotion', 'animatetransform', 'image', 'x-mark', 'map'],
])
const ADDRESSES = [
  ...['href', 'src', 'action', 'formaction', 'data', 'poster', 'srcset', 'cite', 'background', 'ping', 'longdesc'],
  ...[
    'manifest',
    'xlink:href',
    'to',
    'from',
    'values',
    'xml:base',
    'srcdoc',
    'codebase',
    'archive',
    'lowsrc',
    'dynsrc',
  ],
]
// `data:,` is the icon of nothing that keeps a browser from asking for one.
const isEmptyIcon = (element, value) => element.localName === 'link' && element.rel === 'icon' && value === 'data:,'

function sayAddress(element, name, value) {
  const plain = value.replace(/[\u0000-\u0020\u007f-\u00a0\u200b\u2028\u2029\ufeff]/g, '').toLowerCase()
  if (isEmptyIcon(element, plain)) return undefined
  if (/^(javascript|vbscript|livescript|data|blob|file|filesystem|view-source|jar|about):/.test(plain))
    return 'an address that runs'
  if (!/^([a-z][a-z0-9+.-]*:|[\\/]{2})/.test(plain)) return undefined
  const isLink = element.localName === 'a' && name === 'href'
  const isShut = /\bnoopener\b/.test(element.getAttribute('rel') ?? '')
  return isLink && /^(https?:\/\/|mailto:)/.test(plain) && isShut ? undefined : 'an address elsewhere'
}

function sayElement(element) {
  const name = element.localName.toLowerCase()
  // Ours hold words of the program alone; what a browser without script would see of somebody's words is text to others.
  if (name === 'noscript' && /xss\(|x-?mark/i.test(element.outerHTML)) return 'words that change with the parser'
  if (NEVER.has(name)) return 'an element that no page has'
  if (name === 'script') {
    const src = element.getAttribute('src') ?? ''
    return PLAIN_SCRIPT.test(src) && element.textContent.trim() === '' ? undefined : 'a script of its own'
  }
  if (name === 'meta' && element.hasAttribute('http-equiv')) return 'a header in the page'
  if (name === 'link' && !['stylesheet', 'icon', 'manifest'].includes(element.getAttribute('rel')))
    return 'a link of another sort'
  return undefined
}

function sayAttribute(element, { name, value }) {
  const plain = name.toLowerCase()
  if (plain.startsWith('on')) return 'a handler'
  if (plain === 'style') return 'a style'
  if (plain.includes('xmark') || /["'<=`]/.test(plain)) return 'out of an attribute'
  if ((plain === 'id' || plain === 'name') && value === 'xclobber') return 'a name that shadows the page’s own'
  return ADDRESSES.includes(plain) ? sayAddress(element, plain, value) : undefined
}

/** Everything alive in a page or a picture that our templates never write. */
globalThis.findLive = (text, type = 'text/html') => {
  const document = new DOMParser().parseFromString(text, type)
  const found = []
  const say = (what, element) => what && found.push(`${what}: ${element.outerHTML.slice(0, 160)}`)
  if (type !== 'text/html' && document.querySelector('parsererror')) found.push('it cannot be parsed')
  for (const element of document.querySelectorAll('*')) {
    say(sayElement(element), element)
    for (const attribute of element.attributes) say(sayAttribute(element, attribute), element)
  }
  return found
}

const TYPED = new Set([
  'text',
  'search',
  'url',
  'email',
  'tel',
  'password',
  'number',
  'date',
  'month',
  'hidden',
  'file',
])

/** The forms of a page: where each goes, what it opens with, and which of its fields take words. */
globalThis.listForms = (text) => {
  const document = new DOMParser().parseFromString(text, 'text/html')
  const fields = (form) => [...document.querySelectorAll('[name]')].filter((each) => each.form === form)
  return [...document.forms].map((form) => ({
    method: (form.getAttribute('method') ?? 'get').toUpperCase(),
    action: (form.getAttribute('action') ?? '').split('?')[0],
    fields: fields(form)
      .filter((each) => each.localName !== 'button')
      .filter((each) => !['radio', 'checkbox'].includes(each.type) || each.checked)
      .map((each) => ({
        name: each.getAttribute('name'),
        value: each.type === 'file' ? '' : each.value,
        takesWords: each.localName === 'textarea' || (each.localName === 'input' && TYPED.has(each.type)),
        isHidden: each.type === 'hidden',
      })),
  }))
}
