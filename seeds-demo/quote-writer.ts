import { BLANK_QUOTE, MATERIALS, materialFields, type QuoteEntered } from '../shared/price/quote-entry.ts'
import type { Db } from '../server/db/open.ts'
import { findRevisionById } from '../server/draft/revision-queries.ts'
import { insertForecast } from '../server/forecast/queries.ts'
import { workOutForecast } from '../server/forecast/work-out-queries.ts'
import { findPiece } from '../server/piece/queries.ts'
import { planRepeats } from '../server/plan/worked-queries.ts'
import { beginQuote } from '../server/quote/begin-queries.ts'
import { listUnready, readQuoteForm } from '../server/quote/form.ts'
import { answerQuote, insertQuote, sendQuote } from '../server/quote/queries.ts'
import { listSittings } from '../server/sitting/queries.ts'
import { accept } from './accept.ts'
import { quotes, type DemoQuote } from './quote.ts'

/** Writes the quotes of the collection, with a forecast where the band is still to be woven. */
export function writeQuotes(db: Db, pieceIds: ReadonlyMap<string, number>, at: string): void {
  for (const quote of quotes) {
    const pieceId = pieceIds.get(quote.piece)
    if (pieceId !== undefined) writeQuote(db, quote, pieceId, at)
  }
}

/** Yarn whose price nobody has noted with its lot. */
function withPrices(entered: QuoteEntered): QuoteEntered {
  const typed = MATERIALS.map(materialFields).flatMap((fields) => [
    [fields.price, entered[fields.name] && !entered[fields.price] ? '72.00' : (entered[fields.price] ?? '')],
    [fields.grams, entered[fields.name] && !entered[fields.grams] ? '40' : (entered[fields.grams] ?? '')],
  ])
  return { ...entered, ...(Object.fromEntries(typed) as Record<string, string>) }
}

function writeQuote(db: Db, { piece: key, typed, sentOn, acceptedOn }: DemoQuote, pieceId: number, at: string): void {
  const today = sentOn ?? at.slice(0, 10)
  const piece = findPiece(db, pieceId)
  const revision = findRevisionById(db, piece?.draftRevisionId ?? 0)
  const repeats = planRepeats(db, pieceId)
  const forecast =
    sentOn === undefined && revision && repeats !== null
      ? workOutForecast(db, {
          ...{ draft: revision.draft, repeats, expected: {} },
          piece: { id: pieceId, sittings: listSittings(db, pieceId) },
        })
      : undefined
  const forecastId = forecast && insertForecast(db, { pieceId, forecast, today, at, keptBy: 'quote', demo: 1 })
  // What was sent is told as it was; the other begins as a quote does.
  const begun = sentOn === undefined ? withPrices(beginQuote(db, { piece, revision, forecast, today })) : BLANK_QUOTE
  const { entered, problems } = readQuoteForm({ ...begun, ...typed })
  const unready = { ...problems, ...(sentOn === undefined ? {} : listUnready(entered)) }
  accept(
    `quote of ${key}`,
    Object.keys(unready).length === 0 ? { ok: true, value: entered } : { ok: false, problems: unready },
  )
  const id = insertQuote(db, { entered, pieceId, forecastId, demo: 1 }, at)
  if (sentOn !== undefined) sendQuote(db, id, { today: sentOn, at })
  if (acceptedOn !== undefined) answerQuote(db, id, { state: 'accepted', day: acceptedOn }, at)
}
