import { MATERIALS, materialFields, QUOTE_STAGES, stageFields } from '../../../shared/price/quote-entry.ts'
import { ASPECTS } from '../../../shared/fidelity/aspect.ts'

/**
 * What a form refuses to take as free words: checked against a closed list, a number, a day, an address. It is filled in
 * wrongly all the same, so that the page that comes back is looked at; only then it keeps what the form opened with.
 * A new field of words needs no line here, a new closed one does: the form would be refused, and the test says so.
 */
const CLOSED = new Set([
  ...['version', 'once', 'original', 'piece', 'feature', 'revision', 'part-of', 'next', 'grounds'],
  ...['date', 'doi', 'isbn', 'url', 'takenOn', 'claimedOn', 'day', 'start', 'end', 'minutes', 'breakMinutes', 'zone'],
  ...['plannedOn', 'onLoomOn', 'wovenOn', 'finishedOn', 'setAsideOn', 'picks', 'repeats', 'length', 'nextDay'],
  ...['value', 'u', 'n', 'low', 'high', 'readings', 'resolution', 'unit', 'threading', 'turning', 'weft', 'colours'],
  ...['signInName', 'password', 'present', 'document', 'photo', 'archive', 'tablets', 'from', 'to', 'zoom', 'base'],
  ...['observed', 'marks', 'observedOn', 'keep'],
  ...['countSystem', 'count', 'ply', 'colourKey', 'lot', 'countReading', 'blend', 'build', 'wrapsPerCm', 'diameterMm'],
  ...['colourHex', 'colourLab', 'dyedOn', 'price', 'priceCurrency', 'priceFor'],
  ...['issn', 'accessedOn', 'same', 'leaveOut', 'format', 'style', 'for', 'file'],
  ...[
    'currency',
    'rate',
    'hours-low',
    'hours-high',
    'waste',
    'overhead',
    'profit',
    'set-price',
    'discount',
    'shipping',
  ],
  ...['tax', 'payments', 'valid-until', 'opened'],
  ...QUOTE_STAGES.flatMap((stage) => Object.values(stageFields(stage))),
  ...['grams', 'gramsAfter', 'otherLot', 'accept', 'looked', 'fibre', 'onDay'],
  ...['spot', 'relation', 'reasonKind', 'onDay', ...ASPECTS.map((aspect) => `${aspect}Weight`)],
])
export const isClosed = (name: string): boolean => CLOSED.has(name.replace(/-\d+$/, ''))

/** How many characters a field takes where that is not 300. */
const SHORT: Readonly<Record<string, number>> = {
  ...{ volume: 60, issue: 60, edition: 60, citeKey: 200 },
  ...{ year: 40, pages: 60, role: 60, label: 80, title: 120, part: 120, claimedBy: 120, inventoryNumber: 120 },
  ...{ locator: 200, maker: 200, observedBy: 200, colourName: 120, lotNumber: 120, dyedBy: 200 },
  ...{ decidedBy: 200 },
}
export const mostOf = (name: string): number => SHORT[name.replace(/-\d+$/, '')] ?? 300

/** Fields of several lines: a payload in a line of its own, its line breaks kept. */
const LINES = new Set([
  'notes',
  'wentWrong',
  'note',
  'otherNames',
  'preservation',
  'words',
  'reason',
  'conventionNote',
  'recipe',
  ...['known', 'used', 'labelWords', 'decided', 'evidence', 'considered'],
])
export const hasLines = (name: string): boolean => LINES.has(name)

/** What a form needs to be taken, beside the words. */
export const NEEDED: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  'POST /drafts': { colours: 'm madder #9c3b2e', weft: 'm', threading: 'S m m m m', turning: '1F' },
  'POST /drafts/:id/revisions': { colours: 'm madder #9c3b2e', weft: 'm', threading: 'S m m m m', turning: '1B' },
  'POST /pieces': { setAsideOn: '2026-11-24', 'role-1': '', 'yarn-1': '', 'role-2': '', 'yarn-2': '' },
  'POST /originals/:id/observed': { colours: 'm madder #9c3b2e', observed: 'm' },
  'POST /pieces/:id/observed': { colours: 'm madder #9c3b2e', observed: 'm' },
  'POST /quotes/terms': { currency: 'EUR' },
  'POST /quotes/:id': Object.fromEntries([
    ...[
      ['currency', 'EUR'],
      ['rate', '20'],
      ['hours-weave', '3'],
      ['waste', '10'],
    ],
    ...MATERIALS.flatMap((at) => [
      [materialFields(at).grams, '10'],
      [materialFields(at).price, '4'],
    ]),
  ]) as Record<string, string>,
  'POST /pieces/:id/sittings': { day: '2026-11-20', minutes: '60' },
}

/** Routes whose forms hold no words of anybody's, and why; every other one has to be filled in by the test. */
export const WITHOUT_WORDS: Readonly<Record<string, string>> = {
  'POST /demo': 'a button',
  'POST /demo/remove': 'a button',
  'POST /keeper/backup': 'a button',
  'POST /keeper/restore/:name': 'a button; the name is looked for among those that are there',
  'POST /keeper/delete/:name': 'a button; the name is looked for among those that are there',
  'POST /observed/:id/delete': 'a button',
  'POST /sources/:id/delete': 'a button',
  'POST /originals/:id/delete': 'a button',
  'POST /judgements/:id/delete': 'a button',
  'POST /decisions/:id/delete': 'a button',
  'POST /weightings/:id/delete': 'a button',
  'POST /weightings/:id/share': 'a choice',
  'POST /drafts/:id/delete': 'a button',
  'POST /pieces/:id/delete': 'a button',
  'POST /sittings/:id/delete': 'a button',
  'POST /pieces/:id/hours/approve': 'a button and a time of the clock',
  'POST /pieces/:id/hours/approve-all': 'a button',
  'POST /pieces/:id/hours/leave-out': 'a button',
  'POST /pieces/:id/hours/take-back': 'a button',
  'POST /pieces/:id/hours/limits': 'numbers; what is refused of them is looked at in tests/hours',
  'POST /pieces/:id/timer': 'a choice',
  'POST /timer/pause': 'a button',
  'POST /timer/resume': 'a button',
  'POST /timer/stop': 'a button',
  'POST /timer/discard': 'a button',
  'POST /yarns/:id/delete': 'a button',
  'POST /lots/:id/delete': 'a button',
  'POST /yarns/fibres/:id/delete': 'a button',
  'POST /yarns/:id/share': 'a choice',
  'POST /forecasts': 'numbers, days and ticks; what is refused of them is looked at in tests/forecast',
  'POST /forecasts/:id': 'a choice',
  'POST /quotes': 'a choice and a number; what is refused of it is looked at in tests/quote',
  'POST /quotes/:id/work': 'the same fields as those of the quote; nothing is kept',
  'POST /quotes/:id/forecast': 'a number',
  'POST /quotes/:id/answer': 'a button and a day',
  'POST /quotes/:id/piece': 'a choice',
  'POST /quotes/:id/copy': 'a button',
  'POST /quotes/:id/delete': 'a button',
  'POST /pieces/:id/settle': 'weights and a day; what is refused of them is looked at in tests/yarn-store',
  'POST /photos/:id/delete': 'a button',
  'POST /sources/:id/share': 'a choice',
  'POST /originals/:id/share': 'a choice',
  'POST /drafts/:id/share': 'a choice',
  'POST /pieces/:id/share': 'a choice',
  'POST /pieces/:id/co-makers': 'a choice of members',
  'POST /pieces/:id/co-makers/remove': 'a button',
  'POST /drafts/:id/bench/discard': 'a button',
  'POST /drafts/:id/revisions/:number/cards': 'choices and numbers',
  'POST /pieces/:id/plan': 'choices, numbers and counts; what is refused of them is looked at in tests/plan',
  'POST /pieces/:id/plan/work': 'the same fields; nothing is kept',
  'POST /pieces/:id/plan/revision': 'a button',
  'POST /pieces/:id/plan/reserve': 'a button',
  'POST /pieces/:id/plan/threading': 'ticks',
  'POST /pieces/:id/loom': 'numbers, and words of a slip, which tests/loom looks at',
  'POST /pieces/:id/loom/steps': 'the same, strictly read',
  'POST /pieces/:id/loom/file': 'the same, strictly read',
  'POST /look': 'a choice',
  'POST /citation-style': 'a choice',
  'POST /sources/import': 'a file; what comes in with it is looked at in tests/source and tests/citation',
  'POST /sign-out': 'a button',
  'POST /account/password': 'passwords, which no page shows',
  'POST /account/sessions/end-others': 'a button',
  'POST /account/sessions/:key/end': 'a button',
  'POST /account/tokens/:id/end': 'a button',
  'POST /members/invite': 'a choice',
  'POST /members/invitations/:key/withdraw': 'a button',
  'POST /members/:id/reset': 'a button',
  'POST /members/:id/role': 'a choice',
  'POST /members/:id/leave': 'a choice',
  'POST /import/:token': 'choices; what the archive says is looked at on its page',
  'POST /import/:token/leave': 'a button',
  'POST /bin/:kind/:entry/restore': 'a button',
  'POST /bin/:kind/:entry/purge': 'a button',
}
