import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'

const FILE = createRequire(import.meta.url).resolve('axe-core/axe.min.js')

// Of a page's few colours axe works out each anew for every element that has it, which takes a fifth of its time.
const REMEMBER_COLOURS = `{
  const known = new Map()
  const { prototype } = axe.commons.color.Color
  const { parseString } = prototype
  prototype.parseString = function (text) {
    if (known.has(text)) [this.r, this.g, this.b, this.alpha] = known.get(text)
    else known.set(text, (parseString.call(this, text), [this.r, this.g, this.b, this.alpha]))
    return this
  }
}`

let source: string | undefined

/** What gives a page `axe`. */
export const axeSource = (): string => (source ??= `${readFileSync(FILE, 'utf8')};${REMEMBER_COLOURS}`)

/**
 * What axe finds in a page, as a line each: its rule and the beginning of what offends it.
 *
 * A picture is one thing with a name; its thousands of stitches hold nothing that a rule could speak of, and axe, which
 * descends by `childNodes`, is not shown them. The title of a picture and whatever in it takes the focus stay in axe's
 * tree, for rules ask a picture for these; by themselves they are excluded.
 */
export const LOOK = `(async () => {
  const kept = 'title, desc, a, foreignObject, [tabindex]'
  const inside = []
  const pictures = [...document.querySelectorAll('svg[role="img"]')]
  for (const picture of pictures) {
    const value = [...picture.children].filter((child) => child.matches(kept) || child.querySelector(kept))
    inside.push(...value)
    Object.defineProperty(picture, 'childNodes', { value, configurable: true })
  }
  try {
    const options = { resultTypes: ['violations'], rules: { 'target-size': { enabled: true } } }
    const { violations } = await axe.run({ exclude: inside }, options)
    return violations.map(({ id, nodes }) => id + ': ' + nodes.map(({ html }) => html.slice(0, 160)).join(' | '))
  } finally {
    for (const picture of pictures) delete picture.childNodes
  }
})()`
