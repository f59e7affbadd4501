/**
 * What is said once where it matters, and gathered on the page about the program. The words are our own; in brackets
 * behind each one is whose advice it follows.
 */
export const CAUTIONS = {
  // J. Waddington, "Backstrap Basics", weavezine.com 2009; HSE, ART tool, breaks before fatigue.
  backstrap: {
    title: 'Weaving in a backstrap',
    text: 'Weaving in a backstrap: the strap goes over the hips, not the waist. Take the break before you are tired. Pain means stop.',
    ask: 'Ask a physiotherapist, or whoever looks after health at your workplace.',
  },
  // Smithsonian Museum Conservation Institute; American Institute for Conservation, health and safety pages.
  handling: {
    title: 'Handling originals',
    text:
      'Handling an original: the holder’s rules come first. Clean hands, or gloves if the holder says so; pencil only; the textile ' +
      'lies fully supported on a clean surface. Old textiles may carry pesticide residues that nobody can see: ask the holder.',
    ask: 'Ask the holder before you go, and a textile conservator about anything fragile.',
  },
  // J. Dean, The Craft of Natural Dyeing; NIOSH on chromium(VI). Waste: common practice, no source.
  dyeing: {
    title: 'Dyes and mordants',
    text:
      'If you try a dye or mordant yourself: read its safety data sheet first, keep dyepots away from food, and follow the local ' +
      'rules for the waste. “Natural” is not “safe”.',
    ask: 'Ask the supplier for the safety data sheet, and your local authority about the waste.',
  },
  // J. Dean, The Craft of Natural Dyeing; NIOSH on chromium(VI). Waste: common practice, no source.
  dyepot: {
    title: 'At the dyepot',
    text:
      'Dyes and mordants: gloves; a mask for powders; an open window or outdoors; pans and spoons that never go back to food. ' +
      'Chrome mordants are not recommended. Waste goes by the local rules. Where the safety data sheet says otherwise, it decides.',
    ask: 'Ask the supplier for the safety data sheet, and your local authority about the waste.',
  },
  // Common knowledge of conservators, no single source: iron and tannin make acid and help oxygen to act.
  ironBlack: {
    title: 'Iron and tannin',
    text: 'Blacks and greys of iron with tannin weaken the yarn with the years, silk and cotton sooner than wool.',
    ask: 'Ask a textile conservator where a band has to last or to carry.',
  },
  // Regulation (EU) 1007/2011; Textile Fiber Products Identification Act and Wool Products Labeling Act (US).
  labelling: {
    title: 'Selling what is woven',
    text:
      'Textiles that are sold name their fibres with their shares: in the European Union by Regulation (EU) No 1007/2011, in the ' +
      'United States by the Textile and the Wool Acts. Check the local rule.',
    ask: 'Ask your local authority for trade or consumers.',
  },
  // Common practice, no source: nobody is known to test tablet-woven bands for load.
  load: {
    title: 'Straps and loads',
    text: 'If it is to be a strap or to carry anything: a woven band is not tested for load. Not for climbing, lifting, carrying people or restraining animals.',
    ask: 'Ask for, and pay for, a tested webbing where a life hangs on it.',
  },
} as const
