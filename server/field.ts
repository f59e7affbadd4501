/** One form field as the template `parts/field` shows it; every key is there, because templates are strict. */
export interface FieldView {
  readonly name: string
  readonly id: string
  readonly label: string
  readonly hint: string
  readonly problem: string
  readonly value: string
  /** Which control: a line, a text area, a choice, or a tick. */
  readonly control: 'line' | 'text' | 'select' | 'tick'
  readonly type: string
  readonly inputmode: string
  readonly rows: number
  readonly required: boolean
  readonly checked: boolean
  readonly options: readonly OptionView[]
  readonly describedBy: string
  /** For a value of tabular data: set in figures of equal width. */
  readonly mono: boolean
  readonly autocomplete: string
  /** Typed letter by letter: no capitals and no corrections from the keyboard. */
  readonly plain: boolean
}

export interface OptionView {
  readonly value: string
  readonly label: string
  readonly selected: boolean
}

export interface FieldSpec {
  readonly label: string
  readonly hint?: string
  readonly control?: FieldView['control']
  readonly type?: 'text' | 'date' | 'time' | 'url' | 'search' | 'password'
  /** `decimal` and `numeric` bring the right keys up on a phone. */
  readonly inputmode?: 'text' | 'decimal' | 'numeric' | 'url'
  readonly rows?: number
  readonly required?: boolean
  readonly options?: readonly (readonly [value: string, label: string])[]
  readonly mono?: boolean
  /** What a browser or a password keeper may fill in; nothing if left out. */
  readonly autocomplete?: string
  readonly plain?: boolean
}

/** The fields of a form from their specification, what is typed in them, and the sentence beside each one. */
export function formFields<N extends string>(
  specs: Readonly<Record<N, FieldSpec>>,
  entered: Readonly<Record<string, string>>,
  problems: Readonly<Partial<Record<string, string>>> = {},
): Record<N, FieldView> {
  const fields = {} as Record<N, FieldView>
  for (const name of Object.keys(specs) as N[])
    fields[name] = toField(name, specs[name], entered[name] ?? '', problems[name] ?? '')
  return fields
}

function toField(name: string, spec: FieldSpec, value: string, problem: string): FieldView {
  const id = `f-${name}`
  const describedBy = [spec.hint ? `${id}-hint` : '', problem ? `${id}-problem` : ''].filter(Boolean).join(' ')
  return {
    name,
    id,
    label: spec.label,
    hint: spec.hint ?? '',
    problem,
    // A password is never sent back.
    value: spec.type === 'password' ? '' : value,
    control: spec.control ?? (spec.options ? 'select' : spec.rows ? 'text' : 'line'),
    type: spec.type ?? 'text',
    inputmode: spec.inputmode ?? (spec.type === 'url' ? 'url' : 'text'),
    rows: spec.rows ?? 1,
    required: spec.required ?? false,
    checked: value !== '',
    options: (spec.options ?? []).map(([key, label]) => ({ value: key, label, selected: key === value })),
    describedBy,
    mono: spec.mono ?? false,
    autocomplete: spec.autocomplete ?? 'off',
    plain: spec.plain ?? false,
  }
}

/** The list at the top of a form that came back: each problem leads to its field. */
export function problemList(fields: Readonly<Record<string, FieldView>>): { href: string; text: string }[] {
  return Object.values(fields)
    .filter((field) => field.problem !== '')
    .map((field) => ({ href: `#${field.id}`, text: `${field.label}: ${field.problem}` }))
}
