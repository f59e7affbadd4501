import type { ErrorRequestHandler, Response } from 'express'
import type { z } from 'zod'
import { toRefusal } from '../app.ts'
import { HttpError } from '../errors.ts'

/** One thing that is wrong with a request: where in its body (empty for the whole) and what. */
export interface ProblemItem {
  readonly path: string
  readonly message: string
}

const TITLES: Record<number, string> = {
  400: 'The request could not be read',
  401: 'Not signed in',
  403: 'Refused',
  404: 'Not there',
  405: 'Method not allowed',
  413: 'Too large',
  415: 'Only JSON is taken here',
  421: 'Not an address of this notebook',
  422: 'The values do not fit',
  429: 'Too many requests',
  500: 'Something broke',
  503: 'Busy',
}

/** A refusal whose single faults the caller should see, each with its path. */
export class ApiRefusal extends HttpError {
  constructor(
    status: 400 | 413 | 422,
    message: string,
    readonly errors: readonly ProblemItem[],
  ) {
    super(status, message)
  }
}

/** RFC 9457 problem document. */
export function sendProblem(res: Response, status: number, detail: string, errors: readonly ProblemItem[] = []): void {
  res
    .status(status)
    .type('application/problem+json')
    .send(JSON.stringify({ type: 'about:blank', title: TITLES[status] ?? 'Refused', status, detail, errors }))
}

/** The API's own end of the line: every refusal, and everything that breaks, is a problem document. */
export function problemHandler(onBroken: (error: unknown) => void): ErrorRequestHandler {
  return (error, _req, res, next) => {
    if (res.headersSent) return next(error)
    const refusal = toRefusal(error)
    if (!refusal) {
      onBroken(error)
      return sendProblem(res, 500, 'Something broke on our side.')
    }
    sendProblem(res, refusal.status, refusal.message, refusal instanceof ApiRefusal ? refusal.errors : [])
  }
}

/** Reads a body by its schema, or refuses with the path of each fault; keys that are not in it are faults too. */
export function readBody<S extends z.ZodType>(schema: S, body: unknown, within = ''): z.output<S> {
  const result = schema.safeParse(body)
  if (result.success) return result.data
  const errors = result.error.issues.flatMap((issue) =>
    issue.code === 'unrecognized_keys'
      ? issue.keys.map((key) => ({
          path: within + toPath([...issue.path, key]),
          message: 'This key is not known here.',
        }))
      : [{ path: within + toPath(issue.path), message: issue.message }],
  )
  throw new ApiRefusal(422, 'The request has values that cannot be used.', errors.slice(0, 50))
}

/** `sittings[2].minutes`, positions counted from 0 as in JSON. */
function toPath(steps: readonly PropertyKey[]): string {
  return steps.reduce<string>((path, step) => {
    if (typeof step === 'number') return `${path}[${step}]`
    return path === '' ? String(step) : `${path}.${String(step)}`
  }, '')
}
