import { describe, expect, test } from 'vitest'
import { readDating, toPhrase } from '../../server/original/dating.ts'

const read = (text: string) => {
  const result = readDating(text)
  return result.ok ? [result.dating.phrase, result.dating.earliestYear, result.dating.latestYear] : result.message
}

describe('readDating(text)', () => {
  // The years follow the Library of Congress specification of 4 February 2019 (ISO 8601-2); the English is our own.
  test.each([
    ['-0449', '450 BCE', -449, -449],
    ['-0449~', 'about 450 BCE', -449, -449],
    ['-0449?', '450 BCE, uncertain', -449, -449],
    ['-0449%', 'about 450 BCE, uncertain', -449, -449],
    ['-04XX', 'between 500 and 401 BCE', -499, -400],
    ['-044X', 'between 450 and 441 BCE', -449, -440],
    ['-0459/-0439', '460 to 440 BCE', -459, -439],
    ['-0459~/-0439~', 'about 460 to about 440 BCE', -459, -439],
    ['../1985', '1985 or earlier', null, 1985],
    ['1985/..', '1985 or later', 1985, null],
    ['/1985', 'an unknown beginning to 1985', null, 1985],
    ['1985/', '1985 to an unknown end', 1985, null],
    ['2001-21', 'spring 2001', 2001, 2001],
    ['2001-34', 'second quarter of 2001', 2001, 2001],
    ['Y-17000', '17,001 BCE', -17000, -17000],
    ['Y170000002', '170,000,002', 170000002, 170000002],
    ['1950S2', 'between 1900 and 1999, estimated 1950', 1900, 1999],
    ['Y171010000S3', 'between 171,000,000 and 171,999,999, estimated 171,010,000', 171000000, 171999999],
    ['[-0459..-0439]', 'some time from 460 to 440 BCE', -459, -439],
    ['[1667,1668,1670..1672]', 'either 1667, 1668 or 1670 to 1672', 1667, 1672],
    ['{1960,1961-12}', '1960 and December 1961', 1960, 1961],
    ['[..1984]', '1984 or earlier', null, 1984],
    ['[1667,1760-12..]', 'either 1667 or December 1760 or later', 1667, null],
    ['[198X,1995]', 'either the 1980s or 1995', 1980, 1995],
    ['0599', '599 CE', 599, 599],
    ['1985', '1985', 1985, 1985],
    ['0000', '1 BCE', 0, 0],
    ['0001', '1 CE', 1, 1],
    ['-00XX', 'between 100 and 1 BCE', -99, 0],
    ['000X', 'between 1 BCE and 9 CE', 0, 9],
    ['05XX', 'between 500 and 599 CE', 500, 599],
    ['0501/0600', '6th century CE', 501, 600],
    ['1101/1200', '12th century', 1101, 1200],
    ['2001/2100', '21st century', 2001, 2100],
    ['-0499/-0400', '5th century BCE', -499, -400],
    ['-0099/0000', '1st century BCE', -99, 0],
    ['-0009/0010', '10 BCE to 10 CE', -9, 10],
    ['198X', 'the 1980s', 1980, 1989],
    ['048X', 'the 480s CE', 480, 489],
    ['198X?', 'the 1980s, uncertain', 1980, 1989],
    ['-048X~', 'approximately between 490 and 481 BCE', -489, -480],
    ['19XX/20XX', 'some time between 1900 and 1999 to some time between 2000 and 2099', 1900, 2099],
    ['198X~/199X~', 'about the 1980s to about the 1990s', 1980, 1999],
    ['1X85', 'between 1085 and 1985', 1085, 1985],
    ['XXXX', 'an unknown year', null, null],
    ['1985-04', 'April 1985', 1985, 1985],
    ['1985-04-12', '12 April 1985', 1985, 1985],
    ['1985-04-12T23:20:30Z', '12 April 1985, 23:20', 1985, 1985],
    ['1985-04-XX', 'April 1985, day not known', 1985, 1985],
    ['1985-XX', '1985, month not known', 1985, 1985],
    ['156X-12-25', '25 December in the 1560s', 1560, 1569],
    ['2004-06~-11', '11 June 2004, year and month approximate', 2004, 2004],
    ['2004?-06', 'June 2004, year uncertain', 2004, 2004],
    ['2004-02-29', '29 February 2004', 2004, 2004],
    ['1985/1985', '1985', 1985, 1985],
    [' 1985 ', '1985', 1985, 1985],
  ])('reads %s', (typed, phrase, earliest, latest) => {
    expect(read(typed)).toEqual([phrase, earliest, latest])
  })

  test.each(['-450', '199', '19', '199/201', '[450..500]', '~450', '../480'])('asks for four digits in %s', (typed) => {
    expect(read(typed)).toContain('A year has four digits')
    expect(read(typed)).toContain('450 BCE is -0449')
  })

  test.each(['2024-02-30', 'about 450 BCE', '12345', '-0000', '1985-13', '450 BC', '', '1985-04-31', 'c. 1200'])(
    'refuses %s as no EDTF',
    (typed) => {
      expect(read(typed)).toContain('not a date in the EDTF notation')
    },
  )

  test.each(['1900-02-29', '-0003-02-29', '1900-02-29/1901'])('refuses the 29 February of %s', (typed) => {
    expect(read(typed)).toContain('leap years')
  })

  test.each(['-0439/-0459', '1985/1980', '1985-05/1985-04', '1985-05-02/1985-05-01', '[1990..1980]'])(
    'refuses %s, which ends before it begins',
    (typed) => {
      expect(read(typed)).toContain('before the beginning')
    },
  )

  test.each(['../..', '/..'])('refuses %s, which says nothing', (typed) => {
    expect(read(typed)).toContain('neither a beginning nor an end')
  })

  test('refuses a year beyond what can be sorted, and a text without end', () => {
    expect(read('Y1E40')).toContain('more years')
    expect(read(`[${'1985,'.repeat(100)}1986]`)).toContain('under 200 characters')
  })
})

describe('toPhrase(edtf)', () => {
  test('gives the English of a kept date, and what it cannot read as it stands', () => {
    expect([toPhrase('-0449~'), toPhrase('soon'), toPhrase('')]).toEqual(['about 450 BCE', 'soon', ''])
  })
})
