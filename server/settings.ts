export interface Settings {
  readonly port: number
  readonly host: string
  readonly dataDir: string
  /** Public address without a trailing slash, when the program stands behind a proxy. */
  readonly baseUrl: string | undefined
  /** Whether nobody but this machine comes in: a lone maker then works without signing in. */
  readonly isLoopback: boolean
}

/** The start is refused; the message is one sentence for the person who started the program. */
export class SettingRefusal extends Error {}

const LOOPBACK = /^(localhost|[a-z0-9-]+\.localhost|127(\.\d{1,3}){3}|::1|\[::1\])$/i

/** The router reads other marks in a path as a pattern. */
const PLAIN_PATH = /^(\/[\w.~-]+)*\/*$/

/**
 * Settings from the environment.
 * @throws SettingRefusal with one sentence that names the setting and its value
 */
export function readSettings(env: Readonly<Record<string, string | undefined>>): Settings {
  const host = env.HOST?.trim() || '127.0.0.1'
  const baseUrl = readBaseUrl(env.BASE_URL)
  return {
    port: readPort(env.PORT),
    host: host.replace(/^\[|\]$/g, ''),
    dataDir: env.DATA_DIR?.trim() || 'data',
    baseUrl,
    isLoopback: LOOPBACK.test(host) && (baseUrl === undefined || LOOPBACK.test(new URL(baseUrl).hostname)),
  }
}

function readPort(text: string | undefined): number {
  if (text === undefined || text.trim() === '') return 4180
  const port = Number(text)
  if (!/^\d{1,5}$/.test(text.trim()) || port > 65535) {
    throw new SettingRefusal(`PORT is "${text}", but must be a whole number from 0 to 65535.`)
  }
  return port
}

function readBaseUrl(text: string | undefined): string | undefined {
  if (text === undefined || text.trim() === '') return undefined
  const refusal = new SettingRefusal(
    `BASE_URL is "${text}", but must be an address such as https://bands.example.org or https://example.org/bands, without ? or #, and with nothing but letters, digits, - . _ and ~ in its path.`,
  )
  if (!URL.canParse(text)) throw refusal
  const url = new URL(text)
  if (!/^https?:$/.test(url.protocol) || url.search || url.hash || url.username || url.password) throw refusal
  if (!PLAIN_PATH.test(url.pathname)) throw refusal
  return url.origin + url.pathname.replace(/\/+$/, '')
}

/** What every own address begins with: the path of the public address, `/bands`; empty where there is none. */
export const basePathOf = (baseUrl: string | undefined): string =>
  baseUrl === undefined ? '' : new URL(baseUrl).pathname.replace(/\/+$/, '')
