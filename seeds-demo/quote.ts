/** Quotes of the collection, every field as it is typed; their hours, where left out, are those of a forecast. */
export interface DemoQuote {
  readonly piece: string
  readonly typed: Readonly<Record<string, string>>
  /** The days on which it was sent and accepted; none for one that is still written. */
  readonly sentOn?: string
  readonly acceptedOn?: string
}

const MAKER = {
  ...{ maker: 'Ineth Vallow', 'maker-address': 'The Tannery Loft\nQuennet (invented)', currency: 'EUR', waste: '10' },
  ...{ 'width-tolerance': '1 mm', 'length-tolerance': '3 %', 'colour-tolerance': 'as the sample, by daylight' },
  sample: 'Ten centimetres are woven first. You see them before the band is begun, and say yes or no in writing.',
  changes: 'What is changed after the sample is agreed in writing, with what it costs and how long it takes.',
  cancelling:
    'Until the warp is wound only the yarn is paid. After that the hours worked are paid, and the band stays with me.',
  care: 'Wash by hand, lukewarm, lying flat. Dry away from the sun.',
}

export const quotes: readonly DemoQuote[] = [
  {
    piece: 'museumFret',
    sentOn: '2025-11-10',
    acceptedOn: '2025-11-20',
    typed: {
      ...MAKER,
      ...{ binding: 'quote', client: 'Museum day at Quennet (invented)', title: 'A band with a fret, to be touched' },
      ...{ 'work-kind': 'museum day', work: 'A tablet-woven band for the touching table, hemmed at both ends.' },
      deviations: 'Wool in the place of silk, so that hands may be let at it; a third wider than the original.',
      ...{ size: '105 cm long, 27 mm wide, without fringe', fibre: '100 % wool' },
      ...{ rate: '24', 'rate-weave': '28', 'hours-study': '3', 'hours-draft': '4', 'hours-sample': '2' },
      ...{ 'hours-wind': '2', 'hours-thread': '4', 'hours-weave': '28', 'hours-finish': '2' },
      ...{
        'hours-low': '36',
        'hours-high': '58',
        'hours-base': 'By guess: no piece of this kind was finished before.',
      },
      ...{ 'material-1': 'Worsted wool, four colours', 'grams-1': '110', 'price-1': '7.80', 'unit-1': '100g' },
      ...{ 'overhead-by': 'hour', overhead: '2.50', 'profit-by': 'none', 'set-price': '1290', shipping: '0' },
      ...{ payments: '40 with the order\n60 when it is handed over', shows: 'hours', 'valid-until': '2025-12-15' },
      delivery: 'By the middle of January, brought by hand.',
    },
  },
  {
    piece: 'teachingChevron',
    typed: {
      ...MAKER,
      ...{ binding: 'estimate', title: 'A chevron band to learn from', 'work-kind': 'guild', fibre: '100 % wool' },
      work: 'A band in large yarn on which apprentices see what each tablet does.',
      ...{ rate: '26', 'overhead-by': 'percent', overhead: '8', 'profit-by': 'margin', profit: '10' },
      ...{
        'discount-by': 'percent',
        discount: '5',
        payments: '30 with the order\n40 when the warp is on\n30 before it is sent',
      },
      ...{ shipping: '9.50', delivery: 'When the apprentices begin again.', shows: 'price' },
      'private-note': 'Ask whether they pay the yarn themselves.',
    },
  },
]
