import { z } from 'zod'
import type { Visibility } from '../db/tables.ts'
import { choice, optionalId } from '../form.ts'

export const VISIBILITIES = ['private', 'members', 'published'] as const satisfies readonly Visibility[]

export const sharingSchema = z.object({
  visibility: choice(VISIBILITIES, 'Please choose who may see this.'),
  grounds: z.string(),
})

export const coMakerSchema = z.object({ member: optionalId() })
