import { WHO, type Who } from '../support/people.ts'
import type { State } from './things.ts'

export type Expected = 'allow' | 'signIn' | 'absent' | 'refused'

const MARKS = { '+': 'allow', '?': 'signIn', '.': 'absent', x: 'refused' } as const satisfies Record<string, Expected>

/** A column for each of `WHO`: nobody known, guest, another member, co-maker, owner, keeper, lone maker. */
const OF_RULES: Readonly<Record<'open' | 'signedIn' | 'create' | 'keeper', string>> = {
  open: '+ + + + + + +',
  signedIn: '? + + + + + +',
  create: '? x + + + + +',
  keeper: '? x x x x + +',
}

type OfState = Readonly<Record<State, string>>

/** Of a piece, and of what belongs to one. Written out by hand, apart from the code that decides. */
const OF_PIECES: Readonly<Record<'read' | 'edit' | 'own', OfState>> = {
  read: {
    private: '? . . + + . +',
    members: '? + + + + + +',
    published: '+ + + + + + +',
    deleted: '? . . . . . .',
    binned: '? . . . . . .',
    absent: '? . . . . . .',
  },
  edit: {
    private: '? . . + + . +',
    members: '? x x + + x +',
    published: '? x x + + x +',
    deleted: '? . . . . . .',
    binned: '? . . . . . .',
    absent: '? . . . . . .',
  },
  own: {
    private: '? . . x + . +',
    members: '? x x x + x +',
    published: '? x x x + x +',
    deleted: '? . . . . . .',
    binned: '? . . . . . .',
    absent: '? . . . . . .',
  },
}

/** Of what nobody makes with the owner: the co-maker of a piece is another member here. */
const OF_OTHERS: Readonly<Record<'read' | 'edit' | 'own', OfState>> = {
  read: {
    private: '? . . . + . +',
    members: '? + + + + + +',
    published: '+ + + + + + +',
    deleted: '? . . . . . .',
    binned: '? . . . . . .',
    absent: '? . . . . . .',
  },
  edit: {
    private: '? . . . + . +',
    members: '? x x x + x +',
    published: '? x x x + x +',
    deleted: '? . . . . . .',
    binned: '? . . . . . .',
    absent: '? . . . . . .',
  },
  own: {
    private: '? . . . + . +',
    members: '? x x x + x +',
    published: '? x x x + x +',
    deleted: '? . . . . . .',
    binned: '? . . . . . .',
    absent: '? . . . . . .',
  },
}

export function expectedOfRule(kind: keyof typeof OF_RULES, who: Who): Expected {
  return markAt(OF_RULES[kind], who)
}

export function expectedOfThing(kind: 'read' | 'edit' | 'own', hasCoMaker: boolean, state: State, who: Who): Expected {
  return markAt((hasCoMaker ? OF_PIECES : OF_OTHERS)[kind][state], who)
}

function markAt(row: string, who: Who): Expected {
  const marks = row.split(' ')
  if (marks.length !== WHO.length) throw new Error(`A row of the table has ${marks.length} columns: ${row}`)
  return MARKS[marks[WHO.indexOf(who)] as keyof typeof MARKS]
}
