/** From `?undo=piece-7` of a page shown after something was thrown away: where it is taken out of the bin again. */
export function undoPath(typed: unknown): string {
  const [, kind, id] =
    (typeof typed === 'string' &&
      /^(source|original|draft|piece|sitting|photo|observed|yarn|lot|judgement|decision|weighting|quote)-([1-9]\d{0,14})$/.exec(
        typed,
      )) ||
    []
  return kind ? `/bin/${kind}/${id}/restore` : ''
}
