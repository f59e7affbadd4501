import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { BLANK_QUOTE, MATERIALS, materialFields, QUOTE_STAGES, stageFields } from '../../shared/price/quote-entry.ts'
import { quoteSheet } from '../../shared/price/quote-sheet.ts'

const sum = (all: readonly bigint[]) => all.reduce((one, other) => one + other, 0n)
const worked = (typed: Record<string, string>) => quoteSheet({ ...BLANK_QUOTE, ...typed })

describe('quoteSheet(entered)', () => {
  test('pays 7.35 h at 28.50 with 209.48: half a cent goes to the even one', () => {
    const { figures, sheet, problems } = worked({ 'hours-weave': '7.35', rate: '28.50' })
    expect(problems).toEqual({})
    expect(figures.cases.likely.labour).toBe(20948n)
    expect(sheet.figures.total.text).toBe('209.48\u00a0EUR')
    expect(sheet.hours[0]?.cells[3]?.how).toBe(
      '7.35 h × 28.50\u00a0EUR an hour = 209.48\u00a0EUR, a half to the even one',
    )
  })

  test('works out a whole quote: stages, materials, overhead, margin, discount, shipping, tax, payments', () => {
    const { figures, sheet, problems } = worked({
      ...{
        rate: '20',
        'hours-thread': '4',
        'hours-weave': '36',
        'rate-weave': '25',
        'hours-low': '30',
        'hours-high': '60',
      },
      ...{ 'material-1': 'Fen wool', 'grams-1': '120', 'price-1': '80', 'unit-1': 'kg', waste: '10' },
      ...{ 'overhead-by': 'hour', overhead: '2.5', 'profit-by': 'margin', profit: '20', 'set-price': '1400' },
      ...{
        'discount-by': 'percent',
        discount: '5',
        shipping: '12.40',
        tax: '25',
        payments: '33.3 with the order\n66.7 before sending',
      },
    })
    expect(problems).toEqual({})
    // 4 x 20 + 36 x 25; 0.12 kg x 1.1 x 80; 40 h x 2.50; 1090.56 of cost are 80 % of the price.
    expect(figures.cases.likely).toMatchObject({
      labour: 98000n,
      overhead: 10000n,
      cost: 109056n,
      profit: 27264n,
      net: 136320n,
    })
    expect(figures.materialCost).toBe(1056n)
    expect(figures.cases.low.stages.map(({ hours }) => hours)).toEqual([3000n, 27000n])
    expect(figures.cases.high.hours).toBe(60_000n)
    expect(figures.asked).toEqual({
      ...{ net: 140000n, discount: 7000n, work: 133000n, shipping: 1240n, taxed: 134240n, tax: 33560n, total: 167800n },
    })
    expect(figures.payments.map(({ amount }) => amount)).toEqual([55877n, 111923n])
    // (1330 - 10.56 - 100) / 40; 75 of overhead in 30 h, 150 in 60 h.
    expect(figures.wages).toEqual({ likely: 3049n, low: 4148n, high: 1949n })
    expect(sheet.says.wage).toContain('41.48\u00a0EUR if the work goes quickly, and 19.49\u00a0EUR if it is slow')
  })

  test('names mark-up and margin apart: 20 % of 100 are 20, a margin of 20 % is 25', () => {
    const cost = { 'material-1': 'Ring', 'price-1': '100', 'unit-1': 'whole', profit: '20' }
    expect(worked({ ...cost, 'profit-by': 'markup' }).figures.cases.likely.profit).toBe(2000n)
    expect(worked({ ...cost, 'profit-by': 'margin' }).figures.cases.likely.profit).toBe(2500n)
    expect(worked({ ...cost, 'profit-by': 'margin', profit: '100' }).problems.profit).toContain('below 100 %')
  })

  test('counts in a currency without minor units, and in one with three', () => {
    expect(worked({ currency: 'JPY', 'hours-weave': '1.5', rate: '1001' }).figures.asked.total).toBe(1502n)
    expect(worked({ currency: 'KWD', 'hours-weave': '1.5', rate: '4.001' }).sheet.figures.total.text).toBe(
      '6.002\u00a0KWD',
    )
    expect(worked({ currency: 'JPY', rate: '10.5' }).problems.rate).toBe('JPY has no figures behind the point.')
  })

  test('never takes more off than there is', () => {
    const { figures, sheet } = worked({ 'hours-weave': '1', rate: '10', 'discount-by': 'amount', discount: '99' })
    expect(figures.asked).toMatchObject({ discount: 1000n, work: 0n, total: 0n })
    expect(sheet.says.discount).toContain('no more')
  })

  test.each([
    [{ currency: 'euro' }, 'currency', 'Three capital letters'],
    [{ 'hours-weave': '3' }, 'rate', 'What do you ask for an hour?'],
    [{ 'hours-weave': 'long', rate: '1' }, 'hours-weave', 'hours as a decimal'],
    [{ 'hours-weave': '3', rate: '20.555' }, 'rate', 'EUR has 2 figures'],
    [{ 'hours-weave': '3', rate: '1', 'hours-low': '4' }, 'hours-low', 'more than the stages'],
    [{ 'hours-weave': '3', rate: '1', 'hours-high': '2' }, 'hours-high', 'less than the stages'],
    [{ 'grams-1': '10' }, 'material-1', 'name the material'],
    [{ 'material-1': 'Wool', 'price-1': '3' }, 'grams-1', 'How many grams?'],
    [{ 'overhead-by': 'percent' }, 'overhead', 'how much'],
    [{ 'discount-by': 'percent', discount: '101' }, 'discount', 'at most 100'],
    [{ payments: '50 now' }, 'payments', '100 % together'],
    [{ payments: 'half now' }, 'payments', 'One a line'],
    [{ binding: 'promise' }, 'binding', 'choose from the list'],
    [{ tax: '12.34567' }, 'tax', 'percent as a number'],
  ])('refuses %j with a sentence beside %s', (typed, field, sentence) => {
    expect(worked(typed).problems[field]).toContain(sentence)
  })
})

const money = fc.integer({ min: 0, max: 9_999_999 }).map((minor) => (minor / 100).toFixed(2))
const percent = fc.integer({ min: 0, max: 990_000 }).map((part) => (part / 10_000).toFixed(4))
const hours = fc.integer({ min: 0, max: 999_999 }).map((part) => (part / 1000).toFixed(3))
/** Parts of any size that make 100 % together. */
const payments = fc
  .uniqueArray(fc.integer({ min: 1, max: 999_999 }), { maxLength: 6 })
  .map((cuts) => [0, ...cuts.toSorted((one, other) => one - other), 1_000_000])
  .map((cuts) =>
    cuts
      .slice(1)
      .map((cut, at) => `${((cut - (cuts[at] ?? 0)) / 10_000).toFixed(4)} part ${at + 1}`)
      .join('\n'),
  )

const quote = fc
  .record({
    hours: fc.array(hours, { minLength: QUOTE_STAGES.length, maxLength: QUOTE_STAGES.length }),
    rates: fc.array(money, { minLength: QUOTE_STAGES.length, maxLength: QUOTE_STAGES.length }),
    grams: fc.array(hours, { minLength: MATERIALS.length, maxLength: MATERIALS.length }),
    prices: fc.array(money, { minLength: MATERIALS.length, maxLength: MATERIALS.length }),
    ...{
      overhead: percent,
      profit: percent,
      discount: percent,
      tax: percent,
      waste: percent,
      shipping: money,
      payments,
    },
    overheadBy: fc.constantFrom('none', 'hour', 'percent'),
    profitBy: fc.constantFrom('none', 'markup', 'margin'),
    discountBy: fc.constantFrom('none', 'percent', 'amount'),
  })
  .map((made) => ({
    ...Object.fromEntries(QUOTE_STAGES.map((stage, at) => [stageFields(stage).hours, made.hours[at] ?? ''])),
    ...Object.fromEntries(QUOTE_STAGES.map((stage, at) => [stageFields(stage).rate, made.rates[at] ?? ''])),
    ...Object.fromEntries(MATERIALS.map((at) => [materialFields(at).name, `Yarn ${at}`])),
    ...Object.fromEntries(MATERIALS.map((at) => [materialFields(at).grams, made.grams[at - 1] ?? ''])),
    ...Object.fromEntries(MATERIALS.map((at) => [materialFields(at).price, made.prices[at - 1] ?? ''])),
    ...{ 'overhead-by': made.overheadBy, 'profit-by': made.profitBy, 'discount-by': made.discountBy },
    overhead: made.overheadBy === 'hour' ? made.shipping : made.overhead,
    discount: made.discountBy === 'amount' ? made.shipping : made.discount,
    ...{ profit: made.profit, tax: made.tax, waste: made.waste, shipping: made.shipping, payments: made.payments },
    ...{ currency: 'EUR', rate: '', 'hours-low': '0.1', 'hours-high': '99999.999' },
  }))

test('quoteSheet(entered) adds up in every case, whatever the percentages, and holds no number but whole ones', () => {
  fc.assert(
    fc.property(quote, (typed) => {
      const { figures, problems } = worked(typed)
      // Where the stages come to less than the low end, it is said so.
      const lowProblem = problems['hours-low']
      expect(Object.keys(problems).filter((field) => field !== 'hours-low')).toEqual([])
      expect(sum(figures.materials.map(({ amount }) => amount))).toBe(figures.materialCost)
      for (const each of Object.values(figures.cases)) {
        expect(sum(each.stages.map(({ amount }) => amount))).toBe(each.labour)
        expect(sum(each.stages.map((stage) => stage.hours))).toBe(each.hours)
        expect(each.labour + figures.materialCost + each.overhead).toBe(each.cost)
        expect(each.cost + each.profit).toBe(each.net)
      }
      if (lowProblem === undefined && figures.cases.likely.hours > 0n) expect(figures.cases.low.hours).toBe(100n)
      for (const paid of [figures.asked, ...Object.values(figures.charges)]) {
        expect(paid.net - paid.discount).toBe(paid.work)
        expect(paid.work + paid.shipping + paid.tax).toBe(paid.total)
        expect(paid.work).toBeGreaterThanOrEqual(0n)
      }
      expect(sum(figures.payments.map(({ amount }) => amount))).toBe(figures.asked.total)
      expect(
        JSON.stringify(figures, (_, value: unknown) =>
          typeof value === 'number' ? 'number' : typeof value === 'bigint' ? 'whole' : value,
        ),
      ).not.toMatch(/"(?!at")[a-z]+":"number"/i)
    }),
    { numRuns: 60 },
  )
})
