import ts from 'typescript'

/** Every pattern that is written in a source file. */
export function listPatterns(path: string, text: string): { path: string; source: string }[] {
  const found: { path: string; source: string }[] = []
  const visit = (node: ts.Node): void => {
    if (ts.isRegularExpressionLiteral(node))
      found.push({ path, source: node.text.slice(1, node.text.lastIndexOf('/')) })
    ts.forEachChild(node, visit)
  }
  visit(ts.createSourceFile(path, text, ts.ScriptTarget.ES2023, true))
  return found
}

/**
 * Whether a group without an end of repetitions begins with, or is made of, something that repeats without an end
 * itself: then one text can be cut up in more ways than can be tried. A fixed sign before or behind it, as in `(\/\w+)*`, parts
 * the repetitions, and so is no danger. Our own rule of thumb; it does not see what two repetitions beside each other do.
 */
export function nestsRepeats(source: string): boolean {
  const plain = source.replace(/\\[^]/g, (pair) => (/\\[wWdDsSpP]/.test(pair) ? 'w' : 'ƒ')).replace(/\[[^\]]*\]/g, 'w')
  const groups = [...plain.matchAll(/\((?:\?(?:[:=!]|<[=!]|<\w+>))?([^()]*)\)([*+]|\{\d+,\})/g)]
  return groups.some(([, inside = '']) =>
    inside.split('|').some((branch) => /[*+]|\{\d+,\}/.test(branch) && !/^[^\w.|?*+]|ƒ$/.test(branch)),
  )
}
