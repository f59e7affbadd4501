// The packages come without types; as much of them as is used here.
declare module '@citation-js/core' {
  interface Options {
    readonly forceType?: string
    readonly generateGraph?: boolean
    readonly maxChainLength?: number
  }
  export class Cite {
    constructor(data: unknown, options?: Options)
    readonly data: readonly Readonly<Record<string, unknown>>[]
    format(output: string, options?: Readonly<Record<string, unknown>>): string
  }
  export const plugins: {
    readonly input: { remove(format: string): void; list(): readonly string[] }
    readonly config: { get(plugin: string): { readonly format: Record<string, boolean> } }
  }
  export const logger: { readonly level: string }
}
declare module '@citation-js/plugin-bibtex' {}
declare module '@citation-js/plugin-ris' {}
declare module 'citeproc' {
  interface CitationItem {
    readonly id: string
    readonly label?: string
    readonly locator?: string
  }
  interface System {
    retrieveLocale(language: string): string
    retrieveItem(id: string): unknown
  }
  export class Engine {
    constructor(system: System, style: string, language: string, force: boolean)
    readonly opt: { readonly development_extensions: Record<string, boolean> }
    updateItems(ids: readonly string[]): readonly string[]
    makeBibliography(): readonly [unknown, readonly string[]] | false
    previewCitationCluster(
      citation: {
        readonly citationItems: readonly CitationItem[]
        readonly properties: { readonly noteIndex: number }
      },
      before: readonly unknown[],
      after: readonly unknown[],
      format: 'html' | 'text',
    ): string
  }
  const CSL: { readonly Engine: typeof Engine }
  export default CSL
}
