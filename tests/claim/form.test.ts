import { describe, expect, test } from 'vitest'
import { readClaimForm } from '../../server/claim/form.ts'
import { findFeature } from '../../shared/measure/feature.ts'

const COMMON = { state: 'asPreserved', basis: 'read', unit: 'mm' }

function read(typed: Record<string, string>, key = 'width', context = {}) {
  const feature = findFeature(key)
  if (!feature) throw new Error(`no feature ${key}`)
  const given = { hasSource: (id: number) => id === 1, isCorrection: false, ...context }
  return readClaimForm({ ...COMMON, ...typed }, feature, given)
}

const valueOf = (...given: Parameters<typeof read>) => {
  const form = read(...given)
  if (!form.ok) throw new Error(JSON.stringify(form.problems))
  return form.value
}
const problemsOf = (...given: Parameters<typeof read>) => {
  const form = read(...given)
  return form.ok ? {} : form.problems
}

describe('readClaimForm(body, feature, context)', () => {
  test('keeps a value as typed, with a decimal point for a comma', () => {
    expect(valueOf({ kind: 'value', value: ' 13,0 ', u: '0.20', n: '10', source: '1', locator: 'p. 4' })).toMatchObject(
      {
        ...{ feature: 'width', kind: 'value', value: '13.0', u: '0.20', n: 10, unit: 'mm' },
        ...{ sourceId: 1, locator: 'p. 4', isWorking: false },
      },
    )
  })

  test('reads a range, or one end of it', () => {
    expect(valueOf({ kind: 'range', low: '12', high: '14' })).toMatchObject({ low: '12', high: '14' })
    expect(valueOf({ kind: 'range', low: '21', unit: 'count' }, 'tablets')).toMatchObject({
      low: '21',
      high: undefined,
    })
  })

  test('keeps readings as typed', () => {
    expect(valueOf({ kind: 'readings', readings: '13,5 13\n14; 13', resolution: '0.5' })).toMatchObject({
      readings: '13,5 13\n14; 13',
      resolution: '0.5',
    })
  })

  test('a description and a blank have no unit', () => {
    expect(valueOf({ kind: 'text', words: 'a thumb wide' })).toMatchObject({ words: 'a thumb wide', unit: '' })
    expect(valueOf({ kind: 'blank', blank: 'notAnalysed' })).toMatchObject({ blank: 'notAnalysed', unit: '' })
  })

  test.each<[string, Record<string, string>, string, string]>([
    ['a value and a blank', { kind: 'value', value: '13', blank: 'notAnalysed' }, 'blank', 'You chose “One value”'],
    ['a blank and a value', { kind: 'blank', blank: 'notAnalysed', value: '13' }, 'value', 'You chose “No value'],
    ['readings and a range', { kind: 'readings', readings: '13', low: '12' }, 'low', 'is filled in too'],
    ['nothing chosen', {}, 'kind', 'choose what you want to state'],
    ['no value', { kind: 'value' }, 'value', 'give the value'],
    ['a word for a value', { kind: 'value', value: 'wide' }, 'value', 'type a number'],
    ['zero', { kind: 'value', value: '0.0' }, 'value', 'choose a blank'],
    ['a negative value', { kind: 'value', value: '-13' }, 'value', 'not negative'],
    ['a negative uncertainty', { kind: 'value', value: '13', u: '-1' }, 'u', 'not negative'],
    ['n of zero', { kind: 'value', value: '13', n: '0' }, 'n', 'whole number from 1'],
    ['no ends', { kind: 'range' }, 'low', 'both ends'],
    ['ends that are crossed', { kind: 'range', low: '14', high: '12' }, 'high', 'not above the lower'],
    ['no readings', { kind: 'readings', readings: ' ' }, 'readings', 'at least one reading'],
    ['a comma that parts', { kind: 'readings', readings: '13\n13, 14' }, 'readings', 'Line 2, column 1, “13,”'],
    ['no words', { kind: 'text' }, 'words', 'describe it'],
    ['no sort of blank', { kind: 'blank' }, 'blank', 'which kind of blank'],
    ['a foreign unit', { kind: 'value', value: '13', unit: 'deg' }, 'unit', 'choose the unit'],
    ['an unknown state', { kind: 'value', value: '13', state: 'dry' }, 'state', 'choose the state'],
    ['a source that is gone', { kind: 'value', value: '13', source: '2' }, 'source', 'not there any more'],
    ['two sources', { kind: 'value', value: '13', source: '1', newSource: 'B' }, 'newSource', 'chosen above'],
    ['no such day', { kind: 'value', value: '13', claimedOn: '2026-02-30' }, 'claimedOn', 'year-month-day'],
  ])('refuses %s beside its field and keeps what was typed', (_what, typed, field, sentence) => {
    const form = read(typed)
    if (form.ok) throw new Error('it was taken')
    expect(form.problems).toHaveProperty(field, expect.stringContaining(sentence))
    expect(form.entered).toMatchObject(typed)
  })

  test('refuses a count that is not whole and an angle beyond 90 degrees', () => {
    expect(problemsOf({ kind: 'value', value: '21.5', unit: 'count' }, 'tablets').value).toContain('whole number')
    expect(problemsOf({ kind: 'value', value: '91', unit: 'deg' }, 'warpTwistAngle').value).toContain('0 to 90')
  })

  test('refuses the step of a ruler for densities that were not counted over a length', () => {
    const typed = { kind: 'readings', readings: '72 in 9\n8', unit: 'perCm', resolution: '1' }
    expect(problemsOf(typed, 'picksPerCm').resolution).toContain('72 in 9')
    expect(problemsOf({ ...typed, readings: '72 in 9\n71 in 9' }, 'picksPerCm')).toEqual({})
  })

  test('wants the yarn of a dye, and takes no number for it', () => {
    expect(problemsOf({ kind: 'text', words: 'madder' }, 'dye').part).toContain('which yarn')
    expect(problemsOf({ kind: 'value', value: '13', part: 'warp' }, 'dye').kind).toContain('what you want to state')
  })

  test('wants the reason of a correction', () => {
    expect(problemsOf({ kind: 'value', value: '13' }, 'width', { isCorrection: true }).reason).toContain('why')
  })
})
