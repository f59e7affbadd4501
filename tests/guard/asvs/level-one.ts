/**
 * The items of level 1 of OWASP ASVS 5.0.0, by their number and in our own words. Numbers and meanings are from memory:
 * these are the 70 that the standard counts. `tests` names files and a part of a test's name, which `asvs.test.ts`
 * holds to; where nothing can be asked of a running program, `because` says why it holds.
 */
export interface Item {
  readonly says: string
  readonly because: string
  readonly tests?: readonly (readonly [file: string, name: string])[]
}

const GUARD = 'tests/guard/guard.test.ts'
const XSS = ['tests/guard/xss/corpus.test.ts', 'leave nothing alive'] as const
const HERE = 'tests/guard/asvs/asvs.test.ts'
const SIGN_IN = 'tests/member/sign-in.test.ts'
const PASSWORD = 'tests/member/password.test.ts'
const ACCOUNT = 'tests/member/account.test.ts'
const LINK = 'tests/member/link.test.ts'
const MATRIX = ['tests/rights/matrix.test.ts', 'every route that speaks of a thing'] as const
const NONE = 'not applicable: '

const pass = (says: string, ...tests: (readonly [string, string])[]): Item => ({ says, because: 'pass: tested', tests })
const held = (says: string, because: string): Item => ({ says, because: `pass: ${because}` })
const none = (says: string, because: string): Item => ({ says, because: NONE + because })

export const LEVEL_ONE: Readonly<Record<string, Item>> = {
  '1.2.1': pass('escaped for where it stands', XSS),
  '1.2.2': pass('addresses: harmless schemes alone', XSS, ['tests/markdown/markdown.test.ts', 'lays out what']),
  '1.2.3': pass('data in scripts', ['tests/prose/template.test.ts', 'no script of its own']),
  '1.2.4': pass('parameters in queries', [HERE, 'words of SQL']),
  '1.2.5': pass('no shell', [HERE, 'starts no other program']),
  '1.3.1': pass('HTML from people through a sanitiser', XSS),
  '1.3.2': pass('nothing is evaluated', [HERE, 'starts no other program']),
  '1.5.1': pass(
    'XML is read with outer entities off',
    [HERE, 'an outer entity in it is never fetched'],
    ['tests/photo/hostile.test.ts', 'is refused by what it holds'],
  ),
  '2.1.1': held(
    'rules for input are written down',
    'each form has one schema, and the tests of each form name its rules',
  ),
  '2.2.1': pass('input is checked against what is expected', [HERE, 'numbers that are none']),
  '2.2.2': held('checked on the server', 'every page works without script, so the server alone checks'),
  '2.3.1': pass('steps in their order', [
    'tests/archive/merge.test.ts',
    'writes nothing while a conflict has no choice',
  ]),
  '3.2.1': pass('what was sent in never runs as a page', [
    'tests/photo/hostile.test.ts',
    'is refused by what it holds',
  ]),
  '3.2.2': held('words are shown as words', 'templates escape; scripts write textContent or our own SVG'),
  '3.3.1': pass('cookies are Secure and carry a prefix', [SIGN_IN, 'behind https']),
  '3.4.1': pass('HSTS for a year', ['tests/guard/https.test.ts', 'stands for a year or longer']),
  '3.4.2': pass('no foreign origin reads', ['tests/api/api.test.ts', 'sends no CORS header']),
  '3.5.1': pass('forms from elsewhere are refused', [GUARD, 'is refused and changes nothing']),
  '3.5.2': pass('no call without a preflight does what it should not', ['tests/api/api.test.ts', 'takes JSON only']),
  '3.5.3': pass('GET changes nothing', [HERE, 'GET changes nothing']),
  '4.1.1': pass('type and charset of every answer', [HERE, 'says its type and charset']),
  '4.4.1': none('WebSocket over TLS', 'there is no WebSocket'),
  '5.2.1': pass('size of files', ['tests/photo/upload.test.ts', 'over 25 MB is 413']),
  '5.2.2': pass('a file is what it says', ['tests/photo/hostile.test.ts', 'is refused by what it holds']),
  '5.3.1': held(
    'files that came in are not executed',
    'photographs are decoded and written anew, outside of what is served as code',
  ),
  '5.3.2': pass('names of files are ours', ['tests/photo/upload.test.ts', 'is kept under a name of our own']),
  '6.1.1': held('how guessing is slowed down is written down', 'DEVELOPERS.md, People'),
  '6.2.1': pass('length of passwords', [PASSWORD, 'passwordProblem(password, signInName)']),
  '6.2.2': pass('they can be changed', [ACCOUNT, 'asks for the present one']),
  '6.2.3': pass('with the present one', [ACCOUNT, 'is refused and changes nothing']),
  '6.2.4': pass('common ones are refused', [PASSWORD, 'isCommonPassword(password, own)']),
  '6.2.5': pass('any characters', [PASSWORD, 'counts characters, not bytes']),
  '6.2.6': pass('typed hidden', [HERE, 'passwords can be pasted']),
  '6.2.7': pass('pasting and password managers', [HERE, 'passwords can be pasted']),
  '6.2.8': pass('tried as they were typed', [SIGN_IN, 'PASSWORD.toUpperCase()']),
  '6.3.1': pass('guessing is slowed down', ['tests/member/limit.test.ts', 'lets ten wrong ones through']),
  '6.3.2': pass('no account from the start', [LINK, 'every page leads to the sign-in']),
  '6.4.1': pass('first passwords and codes end', [LINK, 'opens for an hour'], [LINK, 'opens once']),
  '6.4.2': held('no hints, no secret questions', 'there are none'),
  '7.2.1': pass('sessions are looked up on the server', [SIGN_IN, 'ends the session for good']),
  '7.2.2': held('tokens are made for each session', 'a row of its own for each; no fixed key lets anybody in'),
  '7.2.3': pass('256 random bits', [PASSWORD, 'gives 256 bits that are never the same']),
  '7.2.4': pass('a new token at sign-in', [SIGN_IN, 'never takes over a token']),
  '7.4.1': pass('signing out ends it', [SIGN_IN, 'ends the session for good']),
  '7.4.2': pass('leaving ends all', ['tests/member/members.test.ts', 'ends sessions and tokens at once']),
  '8.1.1': held('rights are written down', 'server/rights/routes-table.ts, and DEVELOPERS.md, Rights'),
  '8.2.1': pass('rights to functions', MATRIX, [
    'tests/rights/complete.test.ts',
    'every route that is served has a rule',
  ]),
  '8.2.2': pass('rights to things', MATRIX),
  '8.3.1': pass('asked on the server', MATRIX),
  '9.1.1': none('signed tokens are verified', 'tokens are random and looked up, none is signed'),
  '9.1.2': none('algorithms of signed tokens', 'none is signed'),
  '9.1.3': none('keys of signed tokens', 'none is signed'),
  '9.2.1': pass('tokens end', ['tests/member/bearer.test.ts', 'ends with its time']),
  '10.4.1': none('OAuth: addresses to lead back to', 'there is no OAuth'),
  '10.4.2': none('OAuth: codes open once', 'there is no OAuth'),
  '10.4.3': none('OAuth: codes are short-lived', 'there is no OAuth'),
  '10.4.4': none('OAuth: kinds of grants', 'there is no OAuth'),
  '10.4.5': none('OAuth: tokens for going on', 'there is no OAuth'),
  '11.3.1': none('no weak block modes', 'nothing is encrypted by the program'),
  '11.3.2': none('approved ciphers alone', 'nothing is encrypted by the program'),
  '11.4.1': pass('approved hashes: SHA-256, argon2id', [PASSWORD, 'is argon2id with 19 MiB']),
  '12.1.1': none('TLS 1.2 and newer', 'the proxy before it speaks TLS; README says that there must be one'),
  '12.2.1': pass('TLS to the outside', ['tests/guard/https.test.ts', 'is warned of before and after it']),
  '12.2.2': none('publicly trusted certificates', 'the proxy before it has the certificate'),
  '13.4.1': pass('no source control in what is served', [HERE, 'gives out nothing of how it is made']),
  '14.2.1': held(
    'no secrets in addresses',
    'sessions travel in cookies, API tokens in a header; links that open once are the exception, used up and never logged',
  ),
  '14.3.1': pass('signing out empties the browser', [SIGN_IN, 'ends the session for good']),
  '15.1.1': held(
    'how quickly libraries are renewed',
    'package.json pins each, and DEVELOPERS.md says why; there is no service that promises a term',
  ),
  '15.2.1': held(
    'no library that is past its term',
    'looked at with each change of package.json; README asks for Node 22 or newer',
  ),
  '15.3.1': pass('only the fields that are needed', [
    'tests/rights/nothing-shows.test.ts',
    'finds nothing of what others keep',
  ]),
}
