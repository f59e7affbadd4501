import { type ConventionCard, QUESTIONS, readCard } from '../../../shared/draft/convention/card.ts'
import { isOurFrame, readWritten } from '../../../shared/draft/convention/written.ts'

/** The convention card that the form's lines are written by just now; undefined where nothing is to be converted. */
export function cardIn(form: HTMLFormElement): ConventionCard | undefined {
  const card = chosenCard(form)
  return card && !isOurFrame(card) ? card : undefined
}

function chosenCard(form: HTMLFormElement): ConventionCard | undefined {
  const asCard = form.querySelector<HTMLInputElement>('input[name="asCard"]')
  if (asCard) {
    const written = asCard.checked ? readWritten(form.dataset.draftCard ?? '') : undefined
    return written?.kind === 'card' ? written.card : undefined
  }
  const chosen = (name: string) => form.querySelector<HTMLInputElement>(`input[name="${name}"]:checked`)?.value
  if (chosen('written') !== 'card') return undefined
  return readCard(Object.fromEntries(QUESTIONS.map((question) => [question, chosen(`card-${question}`)])))
}
