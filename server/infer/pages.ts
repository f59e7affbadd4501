import { documentText } from '../../shared/draft/document-text.ts'
import type { TextProblem } from '../../shared/draft/entry-line.ts'
import type { Inference } from '../../shared/draft/infer/infer.ts'
import { countLegible } from '../../shared/draft/infer/observed.ts'
import type { InferRequest } from '../../shared/draft/infer/request.ts'
import { sayInference, sayTablet } from '../../shared/draft/infer/say-inference.ts'
import { turningOf } from '../../shared/draft/turning.ts'
import { weave } from '../../shared/draft/weave.ts'
import { wovenFace } from '../../shared/draft/picture/woven-face.ts'
import { observedPicture } from '../../shared/observed/picture.ts'
import { sayCount } from '../../shared/draft/number-words.ts'
import { formFields, type FieldSpec, type FieldView, problemList } from '../field.ts'
import { type Html, type PageHead, toHtml } from '../pages.ts'
import type { Problems } from '../form.ts'
import { FIELDS, type InferForm, type InferLines } from './form.ts'

declare module '../pages.ts' {
  interface Pages {
    'infer/edit': InferPage
  }
}

interface LinesView {
  readonly name: InferLines
  readonly label: string
  readonly hint: string
  readonly rows: number
  readonly value: string
  readonly problems: readonly { place: string; message: string }[]
}

interface InferPage extends PageHead {
  readonly fields: Record<'title' | 'weft' | 'closes' | 'twistNeutral' | 'longestFloat', FieldView>
  readonly lines: Record<InferLines, LinesView>
  readonly original: string
  readonly isBlank: boolean
  readonly found: FoundView | ''
}

interface FoundView {
  readonly lead: string
  readonly words: readonly string[]
  readonly seen: Html
  readonly woven: Html
  readonly leftOut: string
  readonly mismatches: readonly { pick: number; tablet: number; observed: string; woven: string }[]
  readonly mismatchesLeftOut: string
  readonly tablets: readonly { tablet: number; mismatches: number; reversals: number; open: string }[]
  readonly mayKeep: boolean
  readonly document: string
  readonly notes: string
  readonly title: string
  readonly original: string
}

const SPECS: Record<keyof InferPage['fields'], FieldSpec> = {
  title: { label: 'Title of the draft' },
  weft: {
    label: 'Weft',
    hint: 'The key of its colour; it shows where a hole is empty. The first colour when left out.',
  },
  closes: { label: 'Every tablet is back at its start after the repeat', control: 'tick' },
  twistNeutral: { label: 'Twist-neutral: as many turns back as forward', control: 'tick' },
  longestFloat: { label: 'No float over, picks', inputmode: 'numeric', hint: 'Left out: any length.' },
}

const LINES: Record<InferLines, { label: string; hint: string; rows: number }> = {
  colours: { label: 'Colours', rows: 3, hint: 'One a line: a short key, the name, and # with six digits.' },
  observed: {
    label: 'What was seen',
    rows: 12,
    hint: 'One pick a line from the first, nearest the weaver; one word a tablet from the left: a colour key, or “.” where it is not legible, and after it “/” or “\\” where the slant is. Needs at least one pick.',
  },
  known: {
    label: 'What is known of the tablets',
    rows: 4,
    hint: 'Left out: nothing. Else one tablet a line: S, Z or “?”, the four holes or “?”, and “from C” where the start is known; “1-4: S ?” stands for four.',
  },
}

/** The form, blank or with every word typed, and what was worked out from it. */
export function inferPage(
  form: InferForm,
  found?: { inference: Inference; mayKeep: boolean },
  requireProblem = '',
): InferPage {
  const { entered, places } = form
  const problems: Problems = { ...form.problems, ...(requireProblem ? { longestFloat: requireProblem } : {}) }
  const fields = formFields(SPECS, entered, problems)
  const view = (name: InferLines) => linesView(name, entered[name] ?? '', places[name], problems[name])
  const lines = { colours: view('colours'), observed: view('observed'), known: view('known') }
  return {
    title: 'Work out a draft',
    section: 'drafts',
    scripts: ['draft-infer'],
    ...{ fields, lines, original: entered.original ?? '' },
    isBlank: (entered.observed ?? '') === '',
    found: found && form.value ? foundView(form, form.value.request, found) : '',
    problems: [...problemList(fields), ...Object.values(lines).flatMap(firstProblem)],
  }
}

function linesView(
  name: InferLines,
  value: string,
  places: readonly TextProblem[],
  whole: string | undefined,
): LinesView {
  const problems = places.map(({ line, column, message }) => ({ place: `Line ${line}, character ${column}`, message }))
  return { name, ...LINES[name], value, problems: [...problems, ...(whole ? [{ place: '', message: whole }] : [])] }
}

function firstProblem({ name, label, problems }: LinesView): { href: string; text: string }[] {
  const [first] = problems
  if (!first) return []
  const more = problems.length > 1 ? ` And ${problems.length - 1} more.` : ''
  const place = first.place === '' ? '' : `, ${first.place.toLowerCase()}`
  return [{ href: `#f-${name}`, text: `${label}${place}: ${first.message}${more}` }]
}

/** A longer face makes a page too heavy to look at. */
const MOST_DRAWN = 24_000
const MOST_LISTED = 60

function foundView(
  form: InferForm,
  request: InferRequest,
  { inference, mayKeep }: { inference: Inference; mayKeep: boolean },
): FoundView {
  const { draft, mismatches, perTablet } = inference
  const { observed, colours } = request
  const many = draft.tablets.length
  const picks = Math.min(draft.picks.length, Math.max(1, Math.floor(MOST_DRAWN / many)))
  const drawn = { ...draft, picks: draft.picks.slice(0, picks) }
  const words = sayInference(inference, observed)
  const isGuess = countLegible(observed).slants === 0 && request.tablets.some(({ threading }) => threading === null)
  const guess = isGuess ? 'No slant was read, so S and Z are a guess where they were not known.' : ''
  const marked = mismatches.filter(({ pick }) => pick <= picks)
  const nameOf = (key: string | null) => (key === null ? 'nothing' : (colours[key]?.name ?? key))
  const seen = { cells: observed.cells.slice(0, picks) }
  return {
    lead: `${sayCount(many, 'tablet')}, ${sayCount(draft.picks.length, 'pick')}.`,
    words: [words.fit, words.many, words.look, words.threading, guess].filter(Boolean),
    seen: toHtml(observedPicture(seen, colours, { ground: '#fdfaf3', ink: '#2a2019', marked, title: 'What was seen' })),
    woven: toHtml(
      wovenFace(drawn, weave(drawn, turningOf(drawn)), {
        ...{ side: 'face', tabletWidthMm: 2, pickHeightMm: 2, picksShown: picks, lie: 'across', idPrefix: 'found' },
        detail: picks * many > 6000 ? 'low' : 'high',
        title: 'What the draft weaves',
      }),
    ),
    leftOut: picks < draft.picks.length ? `Picks 1 to ${picks} of ${draft.picks.length} are drawn.` : '',
    mismatches: mismatches
      .slice(0, MOST_LISTED)
      .map((one) => ({ ...one, observed: nameOf(one.observed), woven: nameOf(one.woven) })),
    mismatchesLeftOut: mismatches.length > MOST_LISTED ? `${mismatches.length - MOST_LISTED} more are not listed.` : '',
    tablets: perTablet.map((one, at) => ({
      ...{ tablet: one.tablet, mismatches: one.mismatches, reversals: one.reversals },
      open: sayTablet(one, new Set(draft.tablets[at]!.holes).size === 1),
    })),
    mayKeep,
    title: draft.title,
    document: documentText(draft),
    notes: ['Worked out from an observed face.', words.fit, words.many, words.threading, guess]
      .filter(Boolean)
      .join(' '),
    original: form.entered.original ?? '',
  }
}

/** A form with these words in it, nothing looked at yet. */
export function openedForm(entered: Readonly<Record<string, string>>): InferForm {
  const blank = Object.fromEntries(FIELDS.map((name) => [name, '']))
  return {
    entered: { ...blank, colours: 'm madder #9c3b2e\nw undyed #e9dfc8', ...entered },
    ...{ problems: {}, places: { colours: [], observed: [], known: [] }, value: undefined, fillOnly: true },
  }
}
