import { HttpError } from '../errors.ts'

/**
 * Lets at most `most` pieces of work run at once; the others wait for their turn. A decoded photograph takes hundreds of
 * megabytes, however small its file.
 * @throws HttpError when `waiting` are waiting already
 */
export function createTurns(most: number, waiting: number): <T>(work: () => Promise<T>) => Promise<T> {
  let running = 0
  const queue: (() => void)[] = []
  return async (work) => {
    if (running >= most) {
      if (queue.length >= waiting)
        throw new HttpError(503, 'Many photographs are being read just now. Please send yours again in a minute.')
      // Whoever ends hands its place over, so `running` stays as it is.
      await new Promise<void>((resolve) => queue.push(resolve))
    } else running += 1
    try {
      return await work()
    } finally {
      const next = queue.shift()
      if (next) next()
      else running -= 1
    }
  }
}
