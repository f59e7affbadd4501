/** A word from a closed list: the key is stored, the label is shown, the hint stands beside the choice. */
export interface Word<Key extends string> {
  readonly key: Key
  readonly label: string
  readonly hint: string
}

export type State = 'asPreserved' | 'onTheLoom' | 'offTension' | 'washed'
export type Basis = 'seen' | 'read' | 'photograph' | 'inferred' | 'assumed'
export type Blank = 'notAnalysed' | 'notPreserved' | 'notPublished' | 'notKnownToMe'

/** The state a textile was in when a value was found: a band is longer and narrower under tension than off it. */
export const STATES: readonly Word<State>[] = [
  { key: 'asPreserved', label: 'as preserved', hint: 'As it lies in the collection today.' },
  { key: 'onTheLoom', label: 'on the loom', hint: 'Under weaving tension.' },
  { key: 'offTension', label: 'off tension', hint: 'Cut off or slackened, and rested.' },
  { key: 'washed', label: 'washed', hint: 'Washed or wetted out, dried and rested.' },
]

/** How a value is known, from the surest to the least sure. */
export const BASES: readonly Word<Basis>[] = [
  { key: 'seen', label: 'seen on the object', hint: 'You, or whoever you name, measured the thing itself.' },
  { key: 'read', label: 'read in a publication', hint: 'Taken over as printed.' },
  { key: 'photograph', label: 'read off a photograph', hint: 'Counted or measured on a picture; name its scale.' },
  { key: 'inferred', label: 'inferred', hint: 'Follows from other values; say from which.' },
  { key: 'assumed', label: 'assumed', hint: 'Chosen so that the work could go on.' },
]

/** Why a claim has no value. Four different silences, never one empty cell. */
export const BLANKS: readonly Word<Blank>[] = [
  { key: 'notAnalysed', label: 'not analysed', hint: 'It is there, but nobody has looked.' },
  { key: 'notPreserved', label: 'not preserved', hint: 'It is gone; no looking will help.' },
  { key: 'notPublished', label: 'not published', hint: 'Somebody knows, but has not printed it.' },
  { key: 'notKnownToMe', label: 'not known to me', hint: 'You have not found it yet.' },
]

/**
 * The label of a word, for showing a stored key.
 * @param words one of the closed lists
 * @param key a key of that list
 * @returns its label
 * @throws RangeError when the key is not in the list
 * @example labelOf(BLANKS, 'notAnalysed') // 'not analysed'
 */
export function labelOf<Key extends string>(words: readonly Word<Key>[], key: Key): string {
  const word = words.find((candidate) => candidate.key === key)
  if (!word) throw new RangeError(`key must be one of ${words.map((each) => each.key).join(', ')}, not ${key}`)
  return word.label
}
