import { z } from 'zod'
import { lines } from '../form.ts'

export const workingSchema = z.object({ workingReason: lines(2000) })

export const withdrawSchema = z.object({
  withdrawReason: lines(2000).min(1, 'Please say why; the claim stays on record with it.'),
})
