export interface Element {
  readonly name: string
  readonly attributes: Readonly<Record<string, string>>
  readonly children: Element[]
  text: string
}

const TAG = /^<(\/?)([A-Za-z][\w:-]*)((?:\s+[\w:-]+="[^"<]*")*)\s*(\/?)>/
const TEXT = /^(?:[^<&]|&(?:amp|lt|gt|quot);)+/

/** Reads the strict little XML that our pictures are written in; anything else is an error. */
export function readSvg(source: string): Element {
  const root: Element = { name: '', attributes: {}, children: [], text: '' }
  const open = [root]
  for (let rest = source; rest !== '';) {
    const tag = TAG.exec(rest)
    const text = tag ? null : TEXT.exec(rest)
    const token = tag?.[0] ?? text?.[0]
    if (token === undefined) throw new Error(`Not well formed at: ${rest.slice(0, 80)}`)
    rest = rest.slice(token.length)
    const top = open.at(-1)!
    if (text) top.text += text[0]
    else if (tag![1] === '/') {
      if (open.pop()!.name !== tag![2] || open.length === 0) throw new Error(`</${tag![2]}> closes nothing`)
    } else {
      const pairs = [...tag![3]!.matchAll(/([\w:-]+)="([^"]*)"/g)].map(([, key, value]) => [key!, value!] as const)
      if (new Set(pairs.map(([key]) => key)).size < pairs.length)
        throw new Error(`An attribute stands twice in ${token}`)
      const element: Element = { name: tag![2]!, attributes: Object.fromEntries(pairs), children: [], text: '' }
      top.children.push(element)
      if (tag![4] === '') open.push(element)
    }
  }
  if (open.length > 1) throw new Error(`<${open.at(-1)!.name}> is not closed`)
  if (root.children.length !== 1) throw new Error(`${root.children.length} elements at the top`)
  return root.children[0]!
}

/** An element and all below it. */
export function listElements(element: Element): Element[] {
  return [element, ...element.children.flatMap(listElements)]
}

/** What is wrong with a picture that has to stand inline in a page with others and under a strict policy. */
export function listSvgFaults(source: string, idPrefix: string): string[] {
  const elements = listElements(readSvg(source))
  const ids = elements.flatMap(({ attributes }) => attributes.id ?? [])
  const faults: string[] = []
  if (new Set(ids).size < ids.length) faults.push('an id stands twice')
  for (const id of ids) if (!id.startsWith(idPrefix + '-')) faults.push(`id ${id} lacks the prefix`)
  for (const { name, attributes } of elements) {
    if (['script', 'style', 'foreignObject', 'image', 'a'].includes(name)) faults.push(`a <${name}> stands in it`)
    for (const [key, value] of Object.entries(attributes)) {
      if (key === 'style' || key === 'class' || key.startsWith('on')) faults.push(`${key} stands in <${name}>`)
      if (/NaN|undefined|Infinity/.test(value)) faults.push(`${key} holds ${value.slice(0, 40)}`)
      const target = key === 'href' ? value : /^url\((.*)\)$/.exec(value)?.[1]
      if (target !== undefined && !ids.includes(target.slice(1))) faults.push(`${target} is not there`)
    }
  }
  return faults
}
