/** What others may do with a photograph: a closed list, kept by its SPDX id or its rightsstatements.org address. */
export interface Licence {
  /** As it is kept; empty where none is stated. */
  readonly key: string
  readonly label: string
  /** Where its terms stand; empty where there are none. */
  readonly url: string
}

const creativeCommons = (id: string, path: string, label: string): Licence => ({
  key: id,
  label,
  url: `https://creativecommons.org/${path}/`,
})

const rightsStatement = (id: string, label: string): Licence => ({
  key: `http://rightsstatements.org/vocab/${id}/1.0/`,
  label,
  url: `http://rightsstatements.org/vocab/${id}/1.0/`,
})

export const NOT_EVALUATED = rightsStatement('CNE', 'Copyright not evaluated')

/**
 * Sources: SPDX License List (ids of the Creative Commons licences, version 4.0 and CC0 1.0); the twelve statements of
 * rightsstatements.org, version 1.0.
 */
export const LICENCES: readonly Licence[] = [
  { key: '', label: 'No licence stated', url: '' },
  creativeCommons('CC0-1.0', 'publicdomain/zero/1.0', 'CC0 1.0: given to everybody'),
  creativeCommons('CC-BY-4.0', 'licenses/by/4.0', 'CC BY 4.0: with credit'),
  creativeCommons('CC-BY-SA-4.0', 'licenses/by-sa/4.0', 'CC BY-SA 4.0: with credit, shared alike'),
  creativeCommons('CC-BY-NC-4.0', 'licenses/by-nc/4.0', 'CC BY-NC 4.0: with credit, not for trade'),
  creativeCommons(
    'CC-BY-NC-SA-4.0',
    'licenses/by-nc-sa/4.0',
    'CC BY-NC-SA 4.0: with credit, not for trade, shared alike',
  ),
  creativeCommons('CC-BY-ND-4.0', 'licenses/by-nd/4.0', 'CC BY-ND 4.0: with credit, unchanged'),
  creativeCommons('CC-BY-NC-ND-4.0', 'licenses/by-nc-nd/4.0', 'CC BY-NC-ND 4.0: with credit, not for trade, unchanged'),
  rightsStatement('InC', 'In copyright'),
  rightsStatement('InC-OW-EU', 'In copyright: EU orphan work'),
  rightsStatement('InC-EDU', 'In copyright: educational use permitted'),
  rightsStatement('InC-NC', 'In copyright: non-commercial use permitted'),
  rightsStatement('InC-RUU', 'In copyright: rights-holders not to be found'),
  rightsStatement('NoC-CR', 'No copyright: contractual restrictions'),
  rightsStatement('NoC-NC', 'No copyright: non-commercial use only'),
  rightsStatement('NoC-OKLR', 'No copyright: other known legal restrictions'),
  rightsStatement('NoC-US', 'No copyright: United States'),
  NOT_EVALUATED,
  rightsStatement('UND', 'Copyright undetermined'),
  rightsStatement('NKC', 'No known copyright'),
]

/** An unknown key (from an archive of a later version) is shown as it stands, without an address. */
export const licenceOf = (key: string): Licence =>
  LICENCES.find((licence) => licence.key === key) ?? { key, label: key, url: '' }
