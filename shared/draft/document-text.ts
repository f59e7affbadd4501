import { canonicalDraft } from './document.ts'
import type { Draft } from './draft.ts'

/**
 * A draft as the text of its document: canonical, one colour, tablet or pick a line so that it reads well and two
 * revisions can be laid side by side, with a line feed at the end. It is plain JSON.
 * @param draft one that `readDraft` returned
 * @returns the same text for every draft that says the same
 * @throws RangeError when its picks cannot be read
 * @example documentText(draft) // '{\n  "title": "Fret",\n  "colours": {\n    "m": { "name": …'
 */
export function documentText(draft: Draft): string {
  const { title, colours, weft, tablets, picks } = canonicalDraft(draft)
  const colourLines = Object.entries(colours).map(
    ([key, { name, hex }]) => `${json(key)}: { "name": ${json(name)}, "hex": ${json(hex)} }`,
  )
  const tabletLines = tablets.map(
    ({ threading, holes, start, part }) =>
      `{ "threading": ${json(threading)}, "holes": [${holes.map(json).join(', ')}], "start": ${json(start)}, "part": ${json(part)} }`,
  )
  const body = [
    `"title": ${json(title)}`,
    `"colours": {${list(colourLines)}}`,
    `"weft": ${json(weft)}`,
    `"tablets": [${list(tabletLines)}]`,
    `"picks": [${list(picks.map(json))}]`,
  ]
  return `{\n  ${body.join(',\n  ')}\n}\n`
}

const json = (value: string | null) => JSON.stringify(value)
const list = (lines: readonly string[]) => `\n    ${lines.join(',\n    ')}\n  `
