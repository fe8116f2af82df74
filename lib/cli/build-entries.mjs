// Bundles everything that runs outside Next: files named `*.entry.ts` become .built/<name>.mjs (command
// line, import child, workers, the demo's generator) with the packages they use. Also writes
// .built/engine.json, the version of the numerics: a hash over the sources of lib/core.
import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { build } from 'esbuild';

const ROOT = path.resolve(import.meta.dirname, '..', '..');
const OUT = path.join(ROOT, '.built');
const SKIP = new Set(['node_modules', '.next', '.built', '.git', 'data', 'generated']);

function listFiles(folder, wanted) {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const full = path.join(folder, entry.name);
    if (entry.isDirectory()) return SKIP.has(entry.name) ? [] : listFiles(full, wanted);
    return wanted(entry.name) ? [full] : [];
  });
}

const entries = ['lib', 'seed', 'tests'].flatMap((name) =>
  listFiles(path.join(ROOT, name), (file) => file.endsWith('.entry.ts')),
);
const core = createHash('sha256');
for (const file of listFiles(path.join(ROOT, 'lib', 'core'), (name) =>
  name.endsWith('.ts'),
).sort()) {
  core.update(path.relative(ROOT, file));
  core.update('\0');
  core.update(readFileSync(file));
}

rmSync(OUT, { recursive: true, force: true });
mkdirSync(OUT, { recursive: true });
await build({
  entryPoints: Object.fromEntries(entries.map((file) => [path.basename(file, '.entry.ts'), file])),
  outdir: OUT,
  outExtension: { '.js': '.mjs' },
  bundle: true,
  splitting: true,
  platform: 'node',
  format: 'esm',
  target: 'node20',
  // Native parts stay where they are installed, and so do the tools. The rest is bundled: a process that
  // opens four hundred files to start takes a second longer.
  external: [
    '@duckdb/node-bindings',
    '@myriaddreamin/typst-ts-node-compiler',
    'libsql',
    'next',
    'esbuild',
    '@playwright/test',
    'fsevents',
  ],
  banner: {
    js: [
      "import { createRequire as requireFrom } from 'node:module';",
      'const require = requireFrom(import.meta.url);',
    ].join(' '),
  },
  sourcemap: true,
  // Names stay as they are, for readable traces; esbuild's way of keeping names over shorter ones costs a
  // call for each function that is made, which took a third of a long reconstruction.
  minifyWhitespace: true,
  minifySyntax: true,
  tsconfig: path.join(ROOT, 'tsconfig.json'),
  absWorkingDir: ROOT,
  logLevel: 'warning',
});
writeFileSync(
  path.join(OUT, 'engine.json'),
  JSON.stringify({ engine: core.digest('hex').slice(0, 16) }),
);
