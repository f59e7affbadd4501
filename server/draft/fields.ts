import type { FieldSpec } from '../field.ts'
import type { listOriginalChoices } from '../original/queries.ts'

export type Originals = ReturnType<typeof listOriginalChoices>

export const TITLE: FieldSpec = { label: 'Title', required: true }
export const NOTES: FieldSpec = { label: 'Notes', rows: 5, hint: 'Markdown: *emphasis*, - lists, > quotations.' }
export const WEFT: FieldSpec = {
  label: 'Weft',
  required: true,
  hint: 'The key of its colour; it shows at the edges and where a hole is empty.',
}
export const REVISION_NOTE: FieldSpec = { label: 'What changed', rows: 2, hint: 'For yourself, a year from now.' }

export const AS_CARD: FieldSpec = {
  label: 'Threading and turning are written as the convention card of this draft says',
  control: 'tick',
  hint: 'They are converted to our own frame when they are drawn and saved.',
}

const sayOriginal = ({ name, inventoryNumber }: Originals[number]) =>
  inventoryNumber === '' ? name : `${name} (${inventoryNumber})`

export const originalSpec = (originals: Originals): FieldSpec => ({
  label: 'Original that it belongs to',
  options: [
    ['', 'None: my own design'],
    ...originals.map((original) => [String(original.id), sayOriginal(original)] as const),
  ],
})

/** The fields of several lines that hold the draft itself. */
export const LINES = {
  colours: {
    label: 'Colours',
    rows: 4,
    hint: 'One a line: a short key, the name, and # with six digits. The digits may be left out for madder, weld, woad, indigo, walnut, undyed and the plain colour words.',
  },
  threading: {
    label: 'Threading',
    rows: 8,
    hint: 'One tablet a line from the left: S or Z, then the colour keys of holes A, B, C, D. “1-4:” before it stands for four tablets, “-” is an empty hole; after the holes may stand “from C” and “border”. “mirror” repeats all tablets so far, mirrored.',
  },
  turning: {
    label: 'Turning',
    rows: 14,
    hint: 'One pick a line from the first: runs of tablets from tablet 1 on, such as 2F 4B 2F. F forward, B back, I idle, (2F) a half turn. “x4” at the end stands for four equal picks; from # on it is a remark, which is not kept.',
  },
} as const
