import { networkInterfaces } from 'node:os'
import type { Settings } from './settings.ts'

/** The address that a person types, without a slash at its end. */
export function addressOf({ baseUrl, host }: Pick<Settings, 'baseUrl' | 'host'>, port: number): string {
  if (baseUrl !== undefined) return baseUrl
  // Listening everywhere is no address; the first one of this machine that others can reach is.
  const near = host === '0.0.0.0' || host === '::' ? firstReachable() : host
  return `http://${near.includes(':') ? `[${near}]` : near}:${port}`
}

function firstReachable(): string {
  const all = Object.values(networkInterfaces()).flatMap((list) => list ?? [])
  return all.find(({ family, internal }) => family === 'IPv4' && !internal)?.address ?? '127.0.0.1'
}
