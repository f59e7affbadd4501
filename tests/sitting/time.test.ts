import { describe, expect, test } from 'vitest'
import {
  addMinutes,
  isZone,
  minutesBetween,
  nextDayOf,
  offsetOf,
  toInstants,
  toLocal,
} from '../../server/sitting/time.ts'

// Clock changes are those of the IANA time zone database: Europe/Berlin 2026 on 29 March and 25 October, both at 01:00 UTC;
// Australia/Lord_Howe moves by half an hour; Pacific/Apia left out the whole of 30 December 2011.
const BERLIN = 'Europe/Berlin'
const once = (day: string, time: string, zone = BERLIN) => {
  const found = toInstants(day, time, zone)
  if (found.kind !== 'once') throw new Error(`${day} ${time} is ${found.kind}`)
  return found.at
}

describe('toInstants(day, time, zone)', () => {
  test.each([
    ['2026-01-15', '14:00', BERLIN, '2026-01-15T13:00:00Z'],
    ['2026-07-15', '14:00', BERLIN, '2026-07-15T12:00:00Z'],
    ['2026-03-29', '01:59', BERLIN, '2026-03-29T00:59:00Z'],
    ['2026-03-29', '03:00', BERLIN, '2026-03-29T01:00:00Z'],
    ['2026-07-15', '00:00', BERLIN, '2026-07-14T22:00:00Z'],
    ['2026-07-15', '00:15', 'Asia/Kolkata', '2026-07-14T18:45:00Z'],
  ])('%s %s in %s is %s', (day, time, zone, at) => {
    expect(toInstants(day, time, zone)).toEqual({ kind: 'once', at })
  })

  test.each(['02:00', '02:30', '02:59'])('%s in the autumn night comes twice, an hour apart', (time) => {
    const found = toInstants('2026-10-25', time, BERLIN)
    if (found.kind !== 'twice') throw new Error(found.kind)
    expect(found.first).toBe(`2026-10-25T00:${time.slice(3)}:00Z`)
    expect(minutesBetween(found.first, found.second)).toBe(60)
  })

  test('03:00 in the autumn night comes once', () => {
    expect(once('2026-10-25', '03:00')).toBe('2026-10-25T02:00:00Z')
  })

  test.each(['02:00', '02:30', '02:59'])('%s in the spring night is skipped', (time) => {
    expect(toInstants('2026-03-29', time, BERLIN)).toEqual({
      kind: 'skipped',
      from: '2026-03-29 02:00',
      to: '2026-03-29 03:00',
    })
  })

  test('where the clock moves by half an hour, so does what is twice and what is skipped', () => {
    const zone = 'Australia/Lord_Howe'
    const twice = toInstants('2026-04-05', '01:45', zone)
    if (twice.kind !== 'twice') throw new Error(twice.kind)
    expect(minutesBetween(twice.first, twice.second)).toBe(30)
    expect(toInstants('2026-10-04', '02:15', zone)).toEqual({
      kind: 'skipped',
      from: '2026-10-04 02:00',
      to: '2026-10-04 02:30',
    })
  })

  test('a day that a place left out is skipped as a whole', () => {
    expect(toInstants('2011-12-30', '12:00', 'Pacific/Apia')).toEqual({
      kind: 'skipped',
      from: '2011-12-30 00:00',
      to: '2011-12-31 00:00',
    })
  })
})

describe('minutesBetween(startedAt, endedAt)', () => {
  test('from 01:30 to 03:30 across the autumn night is three hours, across the spring night one', () => {
    expect(minutesBetween(once('2026-10-25', '01:30'), once('2026-10-25', '03:30'))).toBe(180)
    expect(minutesBetween(once('2026-03-29', '01:30'), once('2026-03-29', '03:30'))).toBe(60)
  })

  test('goes over midnight', () => {
    expect(minutesBetween(once('2026-12-31', '23:30'), once('2027-01-01', '00:45'))).toBe(75)
  })
})

describe('toLocal(at, zone)', () => {
  test.each([
    ['2026-10-25T00:30:00Z', '02:30', 'first'],
    ['2026-10-25T01:30:00Z', '02:30', 'second'],
    ['2026-10-25T02:30:00Z', '03:30', ''],
  ])('%s shows %s and says which: "%s"', (at, time, which) => {
    expect(toLocal(at, BERLIN)).toEqual({ day: '2026-10-25', time, which })
  })

  test('gives the local day, not that of UTC', () => {
    expect(toLocal('2026-07-14T22:00:00Z', BERLIN)).toEqual({ day: '2026-07-15', time: '00:00', which: '' })
  })
})

describe('isZone(name)', () => {
  test.each([BERLIN, 'UTC', 'America/Argentina/Buenos_Aires', 'Etc/GMT+5'])('knows %s', (name) => {
    expect(isZone(name)).toBe(true)
  })
  test.each(['', 'Berlin', 'Europe/Nowhere', '+01:00', 'Europe/Berlin[u-ca=iso8601]', '../etc'])(
    'refuses "%s"',
    (name) => {
      expect(isZone(name)).toBe(false)
    },
  )
})

test('addMinutes, nextDayOf and offsetOf follow the clock of the place', () => {
  expect(addMinutes('2026-10-25T00:30:00Z', 90)).toBe('2026-10-25T02:00:00Z')
  expect(nextDayOf('2028-02-28')).toBe('2028-02-29')
  expect(offsetOf('2026-10-25T00:30:00Z', BERLIN)).toBe('UTC+02:00')
  expect(offsetOf('2026-10-25T01:30:00Z', BERLIN)).toBe('UTC+01:00')
})
