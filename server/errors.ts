/** A refusal that the reader should see: its message is shown to people. */
export class HttpError extends Error {
  constructor(
    readonly status: 400 | 401 | 403 | 404 | 405 | 409 | 413 | 415 | 421 | 422 | 429 | 503 | 507,
    message: string,
  ) {
    super(message)
  }
}

/** Who sends a form has no session, or none any more: what they typed is given back. */
export class SignInFirst extends HttpError {
  constructor() {
    super(403, 'Please sign in first. Nothing was changed.')
  }
}

export const notFound = (what: string) => new HttpError(404, `There is no ${what} at this address.`)

/** An id from an address: a whole number from 1, or a 404 that says what was looked for. */
export function readId(text: string | undefined, what: string): number {
  if (text === undefined || !/^[1-9]\d{0,14}$/.test(text)) throw notFound(what)
  return Number(text)
}
