import type { RequestHandler } from 'express'
import { withShell } from '../shell.ts'

/** Light, dark, or as the device says. */
export const LOOKS = ['device', 'light', 'dark'] as const
export type Look = (typeof LOOKS)[number]

export const LOOK_COOKIE = 'fellmark-look'
const REMEMBERED = new RegExp(`(?:^|;\\s*)${LOOK_COOKIE}=(light|dark)(?:;|$)`)

export const lookIn = (cookie: string | undefined): Look => (REMEMBERED.exec(cookie ?? '')?.[1] ?? 'device') as Look

/** What the head of a page says of it: to the browser's own controls, and for which screens the dark colours are. */
export const LOOK_HEADS: Readonly<Record<Look, { colorScheme: string; darkOn: string }>> = {
  device: { colorScheme: 'light dark', darkOn: 'screen and (prefers-color-scheme: dark)' },
  light: { colorScheme: 'light', darkOn: '' },
  dark: { colorScheme: 'dark', darkOn: 'screen' },
}

/** Lets every page behind it know how it is to look. */
export function rememberedLook(): RequestHandler {
  return (req, _res, next) => withShell({ look: lookIn(req.headers.cookie) }, next)
}
