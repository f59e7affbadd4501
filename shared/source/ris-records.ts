/** One record of an RIS file: its tags in their order, lines that go on put together. */
export interface RisRecord {
  /** Line on which it begins, from 1. */
  readonly line: number
  readonly tags: readonly (readonly [tag: string, value: string])[]
}

export interface RisFile {
  readonly records: readonly RisRecord[]
  readonly problems: readonly { readonly line: number; readonly message: string }[]
}

/**
 * Parts a file into its records. A line without a tag goes on where the last one ended; a record without `ER` ends where
 * the next one begins.
 */
export function splitRis(text: string): RisFile {
  const records: RisRecord[] = []
  const problems: { line: number; message: string }[] = []
  let open: { line: number; tags: [string, string][] } | undefined
  const close = () => {
    if (open) records.push(open)
    open = undefined
  }
  for (const [index, line] of text.split('\n').entries()) {
    const found = /^\s?([A-Z][A-Z0-9])\s{1,2}-(?:\s(.*))?$/.exec(line)
    const last = open?.tags[open.tags.length - 1]
    if (!found) {
      if (line.trim() === '') continue
      if (last) last[1] = `${last[1]} ${line.trim()}`.trim()
      else problems.push({ line: index + 1, message: 'This line stands outside of any record, which begins with TY.' })
      continue
    }
    const [, tag = '', value = ''] = found
    if (tag === 'TY') {
      close()
      open = { line: index + 1, tags: [[tag, value.trim()]] }
    } else if (tag === 'ER') close()
    else if (open) open.tags.push([tag, value.trim()])
    else problems.push({ line: index + 1, message: `${tag} stands outside of any record, which begins with TY.` })
  }
  close()
  // A file of another sort has very many such lines; the first few say it all.
  return { records, problems: problems.slice(0, 20) }
}
