/**
 * Address of a strip of a woven face, lying across, at the proportions of middling wool (they are said where a draft is
 * shown): `shape` times as long as it is wide, so that strips of narrow and broad bands fit the same place.
 */
export function stripAddress(
  { id, revision, tablets }: { readonly id: number; readonly revision: number; readonly tablets: number },
  shape = 5,
): string {
  return `/drafts/${id}/revisions/${revision}/face.svg?lie=across&lengthMm=${tablets * shape}`
}
