import { createHash } from 'node:crypto'
import { readAsset } from '../asset.ts'
import { type Page, toHtml } from '../pages.ts'
import { loomPage, type ShownLoom } from './pages.ts'

let parts: { readonly policy: string; readonly style: string; readonly script: string } | undefined

/** Styles and script as they stand in the file, and a policy that lets nothing else be run or fetched. */
function inlineParts(): NonNullable<typeof parts> {
  if (parts) return parts
  const script = readAsset('loom.js').replaceAll('</script', '<\\/script')
  const style = readAsset('loom-file.css')
  const hash = createHash('sha256').update(script).digest('base64')
  const policy = `default-src 'none'; script-src 'sha256-${hash}'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'`
  parts = {
    policy: `<meta http-equiv="Content-Security-Policy" content="${policy}">`,
    style: `<style>${style}</style>`,
    script: `<script type="module">${script}</script>`,
  }
  return parts
}

/**
 * The loom page as one file that stands by itself: opened from the device it needs neither server nor network. Its letters
 * are those of the device, for fonts would make it many times as large.
 */
export function pageAsFile(page: Page, shown: ShownLoom): string {
  const { policy, style, script } = inlineParts()
  const inline = { policy: toHtml(policy), style: toHtml(style), script: toHtml(script) }
  return page('loom/show', { ...loomPage({ ...shown, isFile: true }), inline, travelsOpenly: false })
}
