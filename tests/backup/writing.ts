import { send, type Running } from '../support/server.ts'

/** Writes sources one after the other until it is stopped. @returns the titles that the program acknowledged */
export function keepWriting(
  server: Pick<Running, 'url'>,
  about = 'the band',
): { acknowledged: string[]; stop: () => Promise<void> } {
  const acknowledged: string[] = []
  let isOn = true
  const loop = async () => {
    for (let n = 1; isOn; n++) {
      const title = `Letter ${n} of ${about}`
      const answer = await send(server, '/sources', { title, kind: 'book' }).catch(() => undefined)
      if (!answer) return
      if (answer.status === 303) acknowledged.push(title)
    }
  }
  const done = loop()
  return {
    acknowledged,
    stop: () => {
      isOn = false
      return done
    },
  }
}
