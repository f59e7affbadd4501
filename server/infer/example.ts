/** Invented: ten tablets of a small chevron, as if read off a photograph, with gaps and one cell misread. */
export const EXAMPLE: Readonly<Record<string, string>> = {
  title: 'Chevron, worked out',
  original: '',
  colours: 'm madder #9c3b2e\nw undyed #e9dfc8',
  weft: 'm',
  observed: `m  m m w w w w m m m
m/ m w w m m w w m m\\
m  w w m . m m w w m
m  w m m . w m m w m
m  m m w w w w m m m
m/ m . w m m w w m m\\
m  w w w m m m . w m
m  w m m w w m m w m
m  w m m w w m m w m
m\\ w w . m m m w w m/
m  m w w m m w w . m
m  m m w w w w m m m
m  w m m w . m m w m
m\\ w w m m m . w w m/
m  m w w m m w w m m
m  m m w w w w m m m`,
  known: '1: S m m m m border\n2-5: S m m w w\n6-9: Z m m w w\n10: Z m m m m border',
  closes: '',
  twistNeutral: 'yes',
  longestFloat: '4',
}
