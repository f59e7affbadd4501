import type { Started } from '../support/start.ts'

/** Looks at what is imported, as a person would, and then keeps it; the answer to the second. */
export async function keepImported({ post }: Pick<Started, 'post'>, fields: Record<string, string>) {
  const looked = await post('/drafts/import', fields)
  const key = /name="looked" value="([0-9a-f]{64})"/.exec(looked.text)?.[1]
  if (looked.status !== 200 || key === undefined) throw new Error(`Nothing to keep, ${looked.status}: ${looked.text}`)
  return post('/drafts/import', { ...fields, looked: key, keep: 'yes' })
}
