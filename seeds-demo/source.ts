import type { Source } from './type.ts'

const INVENTED = 'Invented for this demonstration: there is no such publication, and no such people.'

/** Every one of these is invented; see `scenario.ts`. */
export const sources: readonly Source[] = [
  {
    key: 'ossavar',
    title: 'Narrow bands from Saltwithy Staithe',
    people: 'Ossavar, T.',
    year: '2004',
    kind: 'article',
    container: 'Orrowmere Marsh Papers 14 (invented)',
    pages: '31-58',
    url: 'https://papers.example.org/orrowmere/14/ossavar',
    notes: `${INVENTED}

The first real study of the staithe finds. **Table 2** gives five widths for each band *and says where along the band
they were taken*, which nobody else troubles to do. Drawings are reliable; the dye column is not (see Quillory).`,
  },
  {
    key: 'pellowin',
    title: 'Counting tablets from the edge',
    people: 'Pellowin, J.; Ossavar, T.',
    year: '2017',
    kind: 'chapter',
    container: 'Threads under the Reed (invented)',
    pages: '112-140',
    notes: `${INVENTED}

Recounts nine bands from photographs at ten times. Careful about what a photograph cannot show: a turned-under edge
looks exactly like no edge.`,
  },
  {
    key: 'rhonsel',
    title: 'Kelderhow: conservation of the organic finds',
    people: 'Rhonsel, A.',
    year: '1998',
    kind: 'report',
    container: 'Reports of the Marsh Museum 6 (invented)',
    pages: '9-44, plates 3-11',
    notes: INVENTED,
  },
  {
    key: 'quillory',
    title: 'Dyes of eleven marsh textiles',
    people: 'Quillory, M.; Rhonsel, A.',
    year: '2020',
    kind: 'article',
    container: 'Orrowmere Marsh Papers 30 (invented)',
    pages: '201-226',
    url: 'https://papers.example.org/orrowmere/30/quillory',
    notes: `${INVENTED}

Samples of single fibres, 0.1 mg and less. Says plainly which yarns were *not* sampled, and that an absent dye may be a
dye that the bog took.`,
  },
  {
    key: 'catalogue',
    title: 'Held by the Water: catalogue of the permanent rooms',
    people: 'Emmerlay, D. (ed.)',
    year: '2011',
    kind: 'catalogue',
    container: 'Marsh Museum of Orrowmere, Quennet (invented)',
    pages: '64-91',
    notes: `${INVENTED}

For visitors, with sizes to the nearest half centimetre unless a note says otherwise.`,
  },
  {
    key: 'girdlePhoto',
    title: 'Drennet Pool girdle, face, with scale in the picture',
    people: 'Marsh Museum of Orrowmere, picture desk',
    year: '2019',
    kind: 'photograph',
    notes: `An invented photograph. Scale bar of 50 mm lies 4 mm **below** the band's own plane; for what that does to a width
see the letter of the curator.`,
  },
  {
    key: 'emmerlayLetter',
    title: 'Letter of D. Emmerlay to I. Vallow on the store records',
    people: 'Emmerlay, D.',
    year: '2025',
    kind: 'letter',
    notes: `Invented. Three pages, answers all eleven of my questions, two of them with "we should like to know that too".`,
  },
  {
    key: 'storeVisit',
    title: 'Visit to the store at Quennet',
    people: 'Vallow, I.',
    year: '2026',
    kind: 'visit',
    notes: `Invented. Half a day, two bands on the table, hand lens and a steel rule with half millimetres. **Nothing was touched**: the
conservator moved what had to be moved. Ask the holder for the rules before you go, not at the door.`,
  },
  {
    key: 'chapelVisit',
    title: 'Visit to the Tessary chapel chest',
    people: 'Haskeld, C.',
    year: '2026',
    kind: 'visit',
    notes: 'Invented. The band stays behind its glass; all measures through the glass, with a rule laid on it.',
  },
]
