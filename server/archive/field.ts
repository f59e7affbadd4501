import { z } from 'zod'
import type { Json } from '../../shared/archive/canonical.ts'
import type { Target } from './record.ts'
import { day, instant, text, uid } from './value.ts'

/** One field: its name in the archive, its column, what it may hold, and how the two differ. */
export interface Field {
  readonly key: string
  readonly column: string
  readonly schema: z.ZodType<Json>
  /** Another record, by its uid in the archive and by its id in the database. */
  readonly ref?: Target
  /** `flag`: 0 and 1 in the database; `decimal`: a number there, text here. */
  readonly form?: 'flag' | 'decimal'
}

export const field = (
  key: string,
  schema: z.ZodType<Json>,
  more: Pick<Field, 'form'> & { column?: string } = {},
): Field => ({
  column: key.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`),
  ...more,
  key,
  schema,
})
export const to = (key: string, ref: Target): Field => ({
  ...field(key, uid().nullable()),
  column: ref === 'revision' ? 'draft_revision_id' : `${key === 'corrects' ? 'corrects' : ref}_id`,
  ref,
})
export const texts = (keys: readonly string[], most: number) => keys.map((key) => field(key, text(most)))
export const days = (keys: readonly string[]) => keys.map((key) => field(key, day().nullable()))
export const flag = (key: string) => field(key, z.boolean(), { form: 'flag' })
export const oneOf = (keys: readonly string[]) => z.enum(keys as [string, ...string[]])

export const kept = [field('createdAt', instant()), field('updatedAt', instant())]
export const binned = field('deletedAt', instant().nullable())
export const owned = [flag('demo'), field('visibility', z.enum(['private', 'members', 'published'])), binned, ...kept]
