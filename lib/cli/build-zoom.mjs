// node lib/cli/build-zoom.mjs writes the script by which an exported page's figures can be looked at
// closer, lib/core/debrief/html/figure-zoom-script.ts, from lib/view/debrief/figure-zoom.ts. The text is kept
// in the repository, since a page must be the same to the byte wherever it is made; a test compares it.
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const ROOT = path.resolve(import.meta.dirname, '..', '..');

/** The script as one text, and the module that holds it. */
export async function zoomModule() {
  const entry = [
    "import { figuresIn, zoomFigures } from './lib/view/debrief/figure-zoom';",
    'zoomFigures(document, async () => {',
    "  const text = atob(document.getElementById('record').textContent.trim());",
    '  const bytes = Uint8Array.from(text, (sign) => sign.charCodeAt(0));',
    '  return figuresIn(JSON.parse(new TextDecoder().decode(bytes)).blocks);',
    '});',
  ].join('\n');
  const built = await build({
    stdin: { contents: entry, resolveDir: ROOT, loader: 'ts' },
    bundle: true,
    minify: true,
    write: false,
    charset: 'ascii',
    format: 'iife',
    target: 'es2020',
  });
  const script = built.outputFiles[0].text.trim();
  if (/<\/|<!--/.test(script)) throw new Error('the script would end its own element');
  const text = JSON.stringify(script);
  return [
    '/** Written by lib/cli/build-zoom.mjs: the script by which a page\u2019s figures can be looked at closer. */',
    `// biome-ignore-all format: one text, as it was written`,
    `// biome-ignore-all lint: one text, as it was written`,
    `export const FIGURE_ZOOM =\n  ${text};`,
    '',
  ].join('\n');
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const place = path.join(ROOT, 'lib', 'core', 'debrief', 'html', 'figure-zoom-script.ts');
  writeFileSync(place, await zoomModule());
}
