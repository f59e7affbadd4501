/** So long other windows have to say that they are open. */
const ANSWER_MS = 250

/**
 * What is open in other windows: what they hold is still in hand there, and nothing that was left.
 * @param name of the line on which windows ask each other
 * @param held what this window answers, for as long as it is open
 */
export async function askOthers(name: string, held: () => readonly string[]): Promise<ReadonlySet<string>> {
  const open = new Set<string>()
  const line = new BroadcastChannel(name)
  line.addEventListener('message', ({ data }: MessageEvent<{ readonly here?: readonly string[] }>) => {
    if (data.here === undefined) line.postMessage({ here: held() })
    else for (const each of data.here) open.add(each)
  })
  line.postMessage({})
  await new Promise((resolve) => setTimeout(resolve, ANSWER_MS))
  return open
}
