import { expect, test } from 'vitest'
import { minorDigits } from '../../shared/price/currency.ts'
import { moneyText, readMoney, sayMoney } from '../../shared/price/money.ts'

// ISO 4217; for HUF and IDR browsers' tables say 0.
test.each([
  ['EUR', 2],
  ['DKK', 2],
  ['HUF', 2],
  ['IDR', 2],
  ['JPY', 0],
  ['ISK', 0],
  ['KWD', 3],
  ['TND', 3],
  ['CLF', 4],
  ['eur', undefined],
  ['ABC', undefined],
  ['', undefined],
])('minorDigits(%j) is %j', (currency, digits) => expect(minorDigits(currency)).toBe(digits))

test.each([
  ['28.50', 'EUR', 2850n],
  ['28,5', 'EUR', 2850n],
  ['1 250.00', 'EUR', 125000n],
  ['0.005', 'KWD', 5n],
  ['300', 'JPY', 300n],
  ['300.00', 'JPY', 300n],
  ['300.5', 'JPY', undefined],
  ['28.505', 'EUR', undefined],
  ['28.500', 'EUR', 2850n],
  ['-3', 'EUR', undefined],
  ['1,250.00', 'EUR', undefined],
])('readMoney(%j, %j) is %s', (text, currency, minor) => expect(readMoney(text, currency)).toBe(minor))

test.each([
  [125050n, 'EUR', '1250.50', '1\u00a0250.50\u00a0EUR'],
  [-5n, 'EUR', '-0.05', '−0.05\u00a0EUR'],
  [0n, 'JPY', '0', '0\u00a0JPY'],
  [
    12345678901234567890n,
    'EUR',
    '123456789012345678.90',
    '123\u00a0456\u00a0789\u00a0012\u00a0345\u00a0678.90\u00a0EUR',
  ],
])('moneyText and sayMoney of %s %s are %j and %j', (minor, currency, text, said) => {
  expect(moneyText(minor, currency)).toBe(text)
  expect(sayMoney(minor, currency)).toBe(said)
})

test('readMoney in a currency that nobody knows throws', () => {
  expect(() => readMoney('1', 'ABC')).toThrow('ISO 4217')
})
