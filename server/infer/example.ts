/** Invented: twelve tablets of a small zigzag, read off a photograph that nobody took, with gaps and one misread cell. */
export const EXAMPLE: Readonly<Record<string, string>> = {
  title: 'Zigzag, worked out',
  original: '',
  colours: 'm madder #9c3b2e\nw undyed #e9dfc8',
  weft: 'm',
  observed: `m/ m m m m m m m m\\
m/ m m m w w m m m
m  m m w w w w m m
.  m w w m m w w m
m  w w m . m m w w
m  w m m m m m m w
m  . w m m m m w w
m\\ m w w m m w w m
m  m m w w w w m m
m\\ m m m w w . m m
m  w m m m m m m m
m\\ m m m m m m m m/`,
  known: '',
  closes: 'yes',
  twistNeutral: '',
  longestFloat: '4',
}
