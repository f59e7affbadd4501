/** What became of one field when two people had changed the same thing. */
export interface MergedField {
  readonly name: string
  /** What now stands in the form: the one's own word, or the other's where only the other changed it. */
  readonly value: string
  readonly theirs: string
  /** `taken`: the other's, since it was not touched here; `clash`: both changed it, each their own way. */
  readonly outcome: 'taken' | 'clash'
}

/**
 * Two changes of one form brought together, field by field. Where only one side changed a field, that side is right;
 * where both did and do not agree, one's own stays and the other's is shown.
 * @param base what stood when the form was opened; a field that is missing there is taken for changed by both
 * @param mine what was typed, by field
 * @param theirs what has been saved meanwhile, by field
 * @returns the fields that differ, in the order of `mine`; none when both say the same
 * @example mergeFields({ a: '1', b: '1' }, { a: '1', b: '2' }, { a: '3', b: '1' }) // a taken: '3'; b is mine alone: not listed
 * Source: the usual three-way merge, with a field as the smallest part.
 */
export function mergeFields(
  base: Readonly<Record<string, string>>,
  mine: Readonly<Record<string, string>>,
  theirs: Readonly<Record<string, string>>,
): MergedField[] {
  return Object.keys(mine).flatMap((name): MergedField[] => {
    const [was, own, other] = [Object.hasOwn(base, name) ? base[name] : undefined, mine[name] ?? '', theirs[name] ?? '']
    if (own === other || other === was) return []
    return [{ name, value: own === was ? other : own, theirs: other, outcome: own === was ? 'taken' : 'clash' }]
  })
}
