import type { Item } from './level-one.ts'

/** The items of all levels that a server of this kind is asked for, as 48 rows in our own words; each is tested. */
const GUARD = 'tests/guard/guard.test.ts'
const HERE = 'tests/guard/asvs/asvs.test.ts'
const CORPUS = 'tests/guard/xss/corpus.test.ts'
const SIGN_IN = 'tests/member/sign-in.test.ts'
const ACCOUNT = 'tests/member/account.test.ts'
const LIMIT = 'tests/member/limit.test.ts'
const ZIP = 'tests/archive/hostile.test.ts'
const PICTURE = 'tests/photo/hostile.test.ts'
const UPLOAD = 'tests/photo/upload.test.ts'
const MATRIX = 'tests/rights/matrix.test.ts'

const row = (says: string, ...tests: (readonly [string, string])[]): Item => ({ says, because: 'pass: tested', tests })

export const ROWS: readonly Item[] = [
  row('1.1.1 decoded once', [HERE, 'decoded once']),
  row('1.2.1 escaped for where it stands', [CORPUS, 'leave nothing alive where they are shown']),
  row('1.2.2 harmless schemes alone', [CORPUS, 'leave nothing alive where they are shown']),
  row('1.2.3 data in scripts', ['tests/prose/template.test.ts', 'no script of its own']),
  row('1.2.4 parameters in SQL', [HERE, 'words of SQL']),
  row('1.2.5 no shell', [HERE, 'starts no other program']),
  row('1.2.9 words in patterns', [HERE, 'words of SQL']),
  row('1.2.10 cells of tables', [CORPUS, 'leave nothing alive in an archive']),
  row('1.3.1, 1.3.5 Markdown through a sanitiser', [CORPUS, 'run nothing: no dialog']),
  row('1.3.4 SVG is no photograph', [PICTURE, 'is refused by what it holds']),
  row('1.3.6 asks nobody', [HERE, 'starts no other program']),
  row('1.3.7 no template from words', [CORPUS, 'leave nothing alive where they are shown']),
  row('1.3.12 no pattern that runs away', [HERE, 'no pattern repeats what repeats']),
  row('2.2.1-2.2.3 checked on the server', [HERE, 'numbers that are none']),
  row('2.3.3 all or nothing', ['tests/archive/photo.test.ts', 'all or nothing']),
  row('2.4.1 too fast', ['tests/guard/burst.test.ts', 'the next is a 429']),
  row('3.2.1 files are no pages', ['tests/photo/page.test.ts', 'nosniff']),
  row('3.3.1-3.3.4 cookies', [SIGN_IN, 'sets one cookie that scripts cannot read'], [SIGN_IN, 'behind https']),
  row('3.4.1 HSTS', ['tests/guard/https.test.ts', 'stands for a year or longer']),
  row('3.4.2 no CORS', ['tests/api/api.test.ts', 'sends no CORS header']),
  row('3.4.3, 3.4.6 content policy', [GUARD, 'has the safety headers']),
  row('3.4.4, 3.4.5 nosniff and referrer', [GUARD, 'has the safety headers']),
  row('3.5.1 forms from elsewhere', [GUARD, 'is refused and changes nothing']),
  row('3.5.3 GET changes nothing', [HERE, 'GET changes nothing']),
  row('3.7.2 leads to nobody else', [SIGN_IN, 'stays below the address of the notebook']),
  row('4.1.1 type and charset', [HERE, 'says its type and charset']),
  row('4.1.3, 15.3.4 headers of a proxy', [LIMIT, 'is not believed without a public address']),
  row('4.2.1 one request at a time', [HERE, 'two lengths'], [GUARD, 'given twice is refused']),
  row('5.2.1 size of files', [UPLOAD, 'over 25 MB is 413']),
  row('5.2.2 a file is what it says', [PICTURE, 'is refused by what it holds']),
  row('5.2.3 size of archives', [ZIP, 'refuse']),
  row('5.2.4 room for each', [UPLOAD, 'of a member ends at 5 GB'], ['tests/archive/photo.test.ts', 'all or nothing']),
  row('5.2.5, 5.3.3 no paths from archives', [ZIP, '../']),
  row('5.2.6 pixels', [PICTURE, 'is refused by what it holds']),
  row('5.3.1, 5.3.2 names of files', [UPLOAD, 'is kept under a name of our own']),
  row('5.4.1, 5.4.2 one clean header', [UPLOAD, 'offered under the caption']),
  row('6.2.1-6.2.9 passwords', ['tests/member/password.test.ts', 'passwordProblem']),
  row('6.2.3, 7.5.1 the present password', [ACCOUNT, 'asks for the present one']),
  row('6.3.1 guessing', [LIMIT, 'never holds up another network']),
  row('6.3.2, 6.4.1 set-up', ['tests/member/link.test.ts', 'opens once']),
  row('6.3.8 nobody learns who is in', [SIGN_IN, 'says the same of a wrong password'], [LIMIT, 'held up alike']),
  row('7.2.3, 7.2.4 tokens', [SIGN_IN, 'never takes over a token']),
  row('7.3.1-7.4.3 sessions end', [SIGN_IN, 'ends 30 days after it was last used'], [SIGN_IN, 'ends 90 days']),
  row('7.4.5, 7.5.2 list and end', [ACCOUNT, 'are listed by what the browser says']),
  row('8.2.1-8.2.3, 8.3.1 rights', [MATRIX, 'every route that speaks of a thing']),
  row('13.4.1-13.4.5 nothing of how it is made', [HERE, 'gives out nothing of how it is made'], [GUARD, 'TRACE']),
  row(
    '14.2.1, 14.3.1-14.3.3 nothing stays',
    [GUARD, 'never when it is a page'],
    [SIGN_IN, 'ends the session for good'],
  ),
  row(
    '14.2.8, 15.3, 16.2.5-16.5.4 no place, no stray fields, a clean log',
    ...([
      [UPLOAD, 'is in nothing that is served'],
      [ACCOUNT, 'and nothing else that is sent'],
    ] as const),
    ...([
      [GUARD, 'says nothing of what broke'],
      [HERE, 'holds no secret'],
    ] as const),
  ),
]
