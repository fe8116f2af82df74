// `npm run check`: types, lint and format, import rules, unused exports, migrations. Each part says what
// it looked at, because a checker that reads no files also reports success.
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { findClientReach } from './architecture/client-reach.mjs';
import { findImpure } from './architecture/purity.mjs';

const bin = (name) => path.join('node_modules', ...name.split('/'));

/** Calls a tool; returns its exit code with what it printed. */
function call(args) {
  const run = spawnSync(process.execPath, args, {
    encoding: 'utf8',
    maxBuffer: 1 << 28,
    env: { ...process.env, NO_COLOR: '1' },
  });
  return { ok: run.status === 0, text: `${run.stdout}${run.stderr}`.trim(), out: run.stdout };
}

function types() {
  const { ok, text } = call([bin('typescript/bin/tsc'), '--noEmit', '--listFiles']);
  const own = text
    .split('\n')
    .filter(
      (line) =>
        /\/(lib|app|tests|seed)\/[^\n]*\.tsx?$/.test(line) && !line.includes('node_modules'),
    );
  const errors = text.split('\n').filter((line) => /error TS\d+/.test(line));
  return {
    ok: ok && own.length > 20,
    said: ok ? `${own.length} files` : errors.slice(0, 40).join('\n'),
  };
}

function lint() {
  const { ok, text } = call([
    bin('@biomejs/biome/bin/biome'),
    'ci',
    '--colors=off',
    '--max-diagnostics=30',
    '--error-on-warnings',
  ]);
  const seen = Number(/Checked (\d+) files/.exec(text)?.[1] ?? 0);
  return { ok: ok && seen > 20, said: ok ? `${seen} files` : text };
}

const isClient = (file) =>
  /^app\/.*\.tsx?$/.test(file) && /^['"]use client['"]/.test(readFileSync(file, 'utf8'));

function imports() {
  const { ok, out, text } = call([
    bin('dependency-cruiser/bin/dependency-cruise.mjs'),
    '--config',
    'tests/architecture/dependency-rules.cjs',
    '--output-type',
    'json',
    'lib',
    'app',
    'seed',
    'tests',
  ]);
  try {
    const { summary, modules } = JSON.parse(out);
    const core = modules.filter((module) => module.source.startsWith('lib/core/')).length;
    const clients = modules.filter((module) => isClient(module.source)).length;
    const broken = [
      ...summary.violations.map((each) => `${each.rule.name}: ${each.from} -> ${each.to}`),
      ...findClientReach(modules, isClient),
    ];
    return {
      ok: broken.length === 0 && core > 10 && clients > 10,
      said:
        broken.length === 0
          ? `${modules.length} modules, ${core} in core, ${clients} for the browser`
          : broken.join('\n'),
    };
  } catch {
    return { ok: false, said: ok ? 'no report' : text };
  }
}

/** Core and view may not ask for time, chance, network, console or locale: they are arguments there. */
function purity() {
  const listed = spawnSync('git', ['ls-files', 'lib/core', 'lib/view'], { encoding: 'utf8' });
  const files = listed.stdout.split('\n').filter((file) => /\.tsx?$/.test(file));
  const found = files.flatMap((file) => findImpure(file, readFileSync(file, 'utf8')));
  return {
    ok: found.length === 0 && files.length > 10,
    said: found.length === 0 ? `${files.length} files` : found.join('\n'),
  };
}

function unused() {
  const { ok, text } = call([
    bin('knip/bin/knip.js'),
    '--production',
    '--config',
    'tests/architecture/knip.json',
    '--no-progress',
    '--no-config-hints',
  ]);
  return { ok, said: ok ? 'none' : text };
}

function migrations() {
  const { ok, text } = call(['prisma/migration-new.mjs', '--check']);
  return { ok, said: text };
}

export const PARTS = { types, lint, imports, purity, unused, migrations };

/** Runs every part, prints a line each, and returns how many passed and failed. */
export function runChecks() {
  let passed = 0;
  let failed = 0;
  for (const [name, part] of Object.entries(PARTS)) {
    const { ok, said } = part();
    if (ok) passed += 1;
    else failed += 1;
    console.log(`${ok ? 'ok  ' : 'FAIL'} check ${name}: ${said}`);
  }
  return { passed, failed };
}

if (process.argv[1] === fileURLToPath(import.meta.url))
  process.exit(runChecks().failed === 0 ? 0 : 1);
