import { z } from 'zod'
import { choice, parseForm, requiredLine, type Parsed } from '../form.ts'

/** What a feature of the user's own may hold: the label of the choice. */
export const OWN_FEATURE_KINDS = {
  length: 'a length',
  perCm: 'a density: so many per cm',
  count: 'a count',
  angle: 'an angle',
  text: 'words',
} as const
export type OwnFeatureKind = keyof typeof OWN_FEATURE_KINDS
export const OWN_FEATURE_KIND_KEYS = Object.keys(OWN_FEATURE_KINDS) as OwnFeatureKind[]

const featureSchema = z.object({
  label: requiredLine('Please name the feature, such as “Fringe length”.', 80),
  kind: choice(OWN_FEATURE_KIND_KEYS, 'Please choose what is stated of it.'),
})

export type FeatureForm = z.output<typeof featureSchema>
export type FeatureEntered = Record<keyof FeatureForm, string>

export const readFeatureForm = (body: unknown): Parsed<FeatureForm, FeatureEntered> => parseForm(body, featureSchema)
