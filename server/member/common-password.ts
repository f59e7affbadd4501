/**
 * What people take first, from memory and our own patterns (no published list lies behind it). A password needs fifteen
 * characters here, so what counts is what such words make when they are strung together.
 */
const WORDS = `password passwort passw0rd p@ssword p@ssw0rd pass word letmein welcome willkommen bienvenue admin
administrator root user guest login signin access master secret geheim hallo hello goodbye iloveyou ichliebedich
loveyou love liebe jetaime teamo tequiero baby angel princess prinzessin sunshine sonnenschein flower butterfly
chocolate cookie banana cheese pepper ginger summer winter spring autumn sommer herbst january february march april
june july august september october november december monday tuesday wednesday thursday friday saturday sunday monkey
dragon tiger lion eagle falcon horse pony kitty kitten puppy dog cat fish bird football fussball soccer baseball
basketball hockey tennis golf rugby cricket batman superman spiderman pokemon starwars trustno nothing whatever
freedom friend friends family forever michael michelle jessica jennifer daniel thomas andrew george charlie jordan
hunter robert matthew joshua ashley amanda nicole hannah sophie marie maria martin peter alexander internet computer
samsung google facebook windows apple android mobile phone server default test tester testing temp temporary
change changeme please mustang ferrari porsche mercedes harley yankees liverpool chelsea arsenal barcelona madrid
london paris berlin amsterdam england germany deutschland france america canada australia matrix shadow killer
ninja pirate wizard magic phoenix silver golden diamond purple orange yellow black white green blue red jesus
christ heaven blessed church god the and is my your our me you one two three four five six seven eight nine ten
correct battery staple open sesame abracadabra supercalifragilisticexpialidocious qwerty qwertz azerty qwertyuiop
qwertzuiop azertyuiop asdf asdfgh asdfghjkl zxcv zxcvbn zxcvbnm yxcvbnm wasd qazwsx qazwsxedc edcrfv wsxedc abc abcd
abcdef abcdefg abcdefgh abcdefghijklmnopqrstuvwxyz xyz aaa xxx yyy zzz fellmark notebook weave weaver weaving loom
tablet thread textile yarn wool linen band bands warp weft museum guild maker keeper`
  .split(/\s+/)
  .filter(Boolean)

const KNOWN = new Set([...WORDS])
const LONGEST = Math.max(...WORDS.map((word) => word.length))

const RUNS = ['abcdefghijklmnopqrstuvwxyz', '0123456789', 'qwertyuiop', 'qwertzuiop', 'asdfghjkl', 'zxcvbnm', 'yxcvbnm']

/**
 * Whether a password is made of nothing but usual words, runs of neighbouring keys, and figures or signs between them.
 * @param own words that lie near for this person: their sign-in name
 */
export function isCommonPassword(password: string, own: readonly string[]): boolean {
  const letters = password.toLowerCase()
  if (isRepeated(letters)) return true
  // What changes nothing for somebody who guesses: figures and signs between the words.
  const bare = letters.replace(/[^\p{L}@]/gu, '')
  if (bare.length <= 3) return new Set(letters).size < 6 || isRun(letters)
  const words = new Set([...KNOWN, ...own.map((word) => word.toLowerCase()).filter((word) => word.length > 2)])
  return [bare, bare.replaceAll('@', 'a')].some((text) => isMadeOf(text, words)) || isRun(letters)
}

/** One unit of up to six characters again and again: "abcabcabcabcabc". */
function isRepeated(text: string): boolean {
  for (let length = 1; length <= 6; length++) {
    if (
      text
        .slice(0, length)
        .repeat(Math.ceil(text.length / length))
        .startsWith(text)
    )
      return true
  }
  return false
}

/** Keys or letters in their order, forwards or backwards, again and again. */
function isRun(text: string): boolean {
  return RUNS.some((run) => {
    const round = run.repeat(Math.ceil(text.length / run.length) + 1)
    return round.includes(text) || [...round].reverse().join('').includes(text)
  })
}

function isMadeOf(text: string, words: ReadonlySet<string>): boolean {
  const longest = Math.max(LONGEST, ...[...words].map((word) => word.length))
  const reached = new Array<boolean>(text.length + 1).fill(false)
  reached[0] = true
  for (let from = 0; from < text.length; from++) {
    if (!reached[from]) continue
    for (let length = 1; length <= longest && from + length <= text.length; length++) {
      if (words.has(text.slice(from, from + length))) reached[from + length] = true
    }
  }
  return reached[text.length] === true
}
