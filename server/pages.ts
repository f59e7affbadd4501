import { createHash } from 'node:crypto'
import { readFileSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import Handlebars from 'handlebars'
import { mastheadOf } from './masthead.ts'
import { newOnce } from './once.ts'
import { LOOK_HEADS } from './look/look.ts'
import { currentShell } from './shell.ts'

/**
 * Template name → its data. Each noun's `pages.ts` adds its own by declaration merging, so the compiler checks
 * `page('source/show', …)` and no central list has to be edited.
 */
export interface Pages {}

/** What every page has; `page()` adds the rest. */
export interface PageHead {
  readonly title: string
  /** Which entry of the navigation is current. */
  readonly section: 'home' | 'originals' | 'drafts' | 'pieces' | 'sources' | 'yarns' | 'search' | 'compare'
  /** Names of browser scripts (`views/client/NAME.ts`); a page works without them. */
  readonly scripts?: readonly string[]
  /** One sentence on what was just done. */
  readonly notice?: string
  /** Whether others on the network can read what is sent: plain http beyond this machine. */
  readonly travelsOpenly?: boolean
  /** Of a form that came back: each leads to its field. */
  readonly problems?: readonly { readonly href: string; readonly text: string }[]
  /** Without masthead and foot, for a page that fills the screen; usual if left out. */
  readonly frame?: 'bare'
  /** Of a bare page that can be installed: the path of its web manifest. */
  readonly manifest?: string
  /** Of a bare page that stands in one file, without a server: its policy, styles and script. */
  readonly inline?: { readonly policy: Html; readonly style: Html; readonly script: Html }
}

export type Page = <K extends keyof Pages & string>(name: K, data: Pages[K] & PageHead) => string

/** Text that is HTML already and safe: sanitised Markdown and our own pictures, nothing else. */
export type Html = Handlebars.SafeString
export const toHtml = (html: string): Html => new Handlebars.SafeString(html)

const SECTIONS = [
  { key: 'originals', label: 'Originals', path: '/originals' },
  { key: 'drafts', label: 'Drafts', path: '/drafts' },
  { key: 'pieces', label: 'Pieces', path: '/pieces' },
  { key: 'yarns', label: 'Yarns', path: '/yarns' },
  { key: 'sources', label: 'Sources', path: '/sources' },
] as const

const ROOT = fileURLToPath(new URL('..', import.meta.url))

/**
 * All templates, parsed at once: one that is broken or missing stops the start, not a reader.
 * @param base path of the public address, '' or '/bands'
 */
export function createPages(base: string): Page {
  const engine = Handlebars.create()
  const views = join(ROOT, 'views')
  const link = (...parts: unknown[]) => base + parts.slice(0, -1).join('')
  engine.registerHelper('link', link)
  engine.registerHelper('is', (left: unknown, right: unknown) => left === right)
  engine.registerHelper('asset', assetHelper(base))
  const options = { strict: true, preventIndent: true }
  for (const name of listTemplates(join(views, 'parts'))) {
    engine.registerPartial(name, parse(engine, readTemplate(views, `parts/${name}`), options))
  }
  const templates = new Map<string, Handlebars.TemplateDelegate>()
  for (const folder of readdirSync(views, { withFileTypes: true })) {
    if (!folder.isDirectory() || ['parts', 'styles', 'client'].includes(folder.name)) continue
    for (const name of listTemplates(join(views, folder.name))) {
      templates.set(`${folder.name}/${name}`, parse(engine, readTemplate(views, `${folder.name}/${name}`), options))
    }
  }
  const frames = {
    usual: parse(engine, readTemplate(views, 'layout'), options),
    bare: parse(engine, readTemplate(views, 'bare'), options),
  }
  return (name, data) => {
    const template = templates.get(name)
    if (!template) throw new Error(`There is no template views/${name}.hbs`)
    const sections = SECTIONS.map((section) => ({ ...section, current: section.key === data.section }))
    const shell = {
      notice: '',
      scripts: [],
      problems: [],
      version: '',
      undo: '',
      manifest: '',
      inline: '',
      once: newOnce(),
      ...LOOK_HEADS[currentShell().look ?? 'device'],
      ...currentShell(),
      ...mastheadOf(),
      ...data,
      sections,
      base,
    }
    // What a screen reader says first, and what stands on the tab, tells that a form came back.
    const isDoor = name === 'member/sign-in' || name === 'member/join'
    const warnsOfListeners = data.travelsOpenly === true && (shell.memberName !== '' || isDoor)
    const title = shell.problems.length > 0 ? `Error: ${data.title}` : data.title
    return frames[data.frame ?? 'usual']({ ...shell, title, warnsOfListeners, body: toHtml(template(shell)) })
  }
}

/** `compile` alone waits for the first use; precompiling finds a broken template at the start. */
function parse(engine: typeof Handlebars, text: string, options: CompileOptions): Handlebars.TemplateDelegate {
  engine.precompile(text, options)
  return engine.compile(text, options)
}

const listTemplates = (folder: string) =>
  readdirSync(folder)
    .filter((file) => file.endsWith('.hbs'))
    .map((file) => file.slice(0, -4))

const readTemplate = (views: string, name: string) => readFileSync(join(views, `${name}.hbs`), 'utf8')

/** `{{asset 'style' '.css'}}`: the address carries a hash of the content, so that it may be cached for ever. */
function assetHelper(base: string) {
  const versions = new Map<string, string>()
  return (...parts: unknown[]) => {
    const name = parts.slice(0, -1).join('')
    let version = versions.get(name)
    if (!version) {
      const content = readFileSync(join(ROOT, 'dist/assets', name))
      versions.set(name, (version = createHash('sha256').update(content).digest('hex').slice(0, 12)))
    }
    return `${base}/assets/${name}?v=${version}`
  }
}
