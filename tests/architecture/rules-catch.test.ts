/** The checks themselves: each rule is broken once, and the check must say so. */
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { findClientReach } from './client-reach.mjs';
import { findImpure } from './purity.mjs';

const ROOT = path.resolve(import.meta.dirname, '../..');

/** File, its text, and the rule that it breaks; null for one that breaks none. */
const TREE: readonly (readonly [string, string, string | null])[] = [
  ['lib/core/result.ts', 'export const result = 1;', null],
  ['lib/core/time/instant.ts', "export { result } from '../result';", null],
  ['lib/core/math/low.ts', "export { high } from '../rules/high';", 'core-row-math'],
  ['lib/core/rules/high.ts', 'export const high = 1;', null],
  ['lib/core/compare/beside.ts', "export { high } from '../rules/high';", 'core-row-compare'],
  ['lib/core/novel/any.ts', "export { result } from '../result';", 'core-folder-without-a-row'],
  ['lib/core/units/disk.ts', "export { readFileSync } from 'node:fs';", 'core-has-no-node'],
  ['lib/core/units/page.ts', "export { useState } from 'react';", 'core-is-pure'],
  ['lib/core/units/zip.ts', "export { zipSync } from 'fflate';", 'core-packages'],
  ['lib/core/units/schema.ts', "export { z } from 'zod';", null],
  ['lib/core/units/label.ts', "export { label } from '../../view/label';", 'core-not-view'],
  ['lib/view/label.ts', "export { result as label } from '../core/result';", null],
  ['lib/view/asks.ts', "export { rows } from '../server/rows';", 'core-is-pure'],
  ['lib/server/rows.ts', "export { result as rows } from '../core/result';", null],
  ['lib/server/screen.ts', "export { page } from '../../app/page';", 'server-not-app'],
  ['lib/server/duck.ts', "export * from '@duckdb/node-api';", 'duckdb-in-samples-only'],
  ['lib/server/samples/duck.ts', "export * from '@duckdb/node-api';", null],
  ['lib/cli/prints.ts', "export { label } from '../view/label';", 'commands-not-view'],
  ['lib/cli/checks.ts', "export { support } from '../../tests/support';", 'nothing-from-tests'],
  ['tests/support.ts', 'export const support = 1;', null],
  ['app/page.ts', "export { label as page } from '../lib/view/label';", null],
  ['app/sums.ts', "export { result } from '../lib/core/result';", 'app-takes-types-from-core'],
  ['app/base.ts', "export * from '@prisma/client';", 'database-client-in-server-only'],
  ['app/plot.ts', "export { Chart } from 'chart.js';", 'charts-in-one-place'],
  ['app/pen.ts', "export { useEditor } from '@tiptap/react';", 'editor-in-one-place'],
  ['app/runs.ts', "export { label } from '../lib/cli/prints';", 'app-not-commands'],
  ['app/ring-a.ts', "import './ring-b';", 'no-cycles'],
  ['app/ring-b.ts', "import './ring-a';", null], // a ring is reported once
  ['app/alone.ts', 'export {};', 'no-orphans'],
  ['app/form.ts', "import { save } from './actions'; import './middle'; save();", 'client-reach'],
  ['app/actions.ts', "export { rows as save } from '../lib/server/rows';", null],
  ['app/middle.ts', "import '../lib/server/rows';", null],
];

type Cruise = Readonly<{
  summary: { violations: { rule: { name: string }; from: string }[] };
  modules: Parameters<typeof findClientReach>[0];
}>;

let folder: string;
let cruise: Cruise;

beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'wakeline-rules-'));
  for (const [file, text] of TREE) {
    mkdirSync(path.join(folder, path.dirname(file)), { recursive: true });
    writeFileSync(path.join(folder, file), text);
  }
  writeFileSync(path.join(folder, 'tsconfig.json'), '{}');
  symlinkSync(path.join(ROOT, 'node_modules'), path.join(folder, 'node_modules'));
  const printed = execFileSync(
    process.execPath,
    [
      path.join(ROOT, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs'),
      ...['--config', path.join(ROOT, 'tests/architecture/dependency-rules.cjs')],
      ...['--output-type', 'json', '--preserve-symlinks', 'lib', 'app', 'tests'],
    ],
    { cwd: folder, encoding: 'utf8', maxBuffer: 1 << 26 },
  );
  cruise = JSON.parse(printed);
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('import rules', () => {
  const broken = TREE.filter(([, , rule]) => rule !== null && rule !== 'client-reach');

  test.each(broken)('%s (%s) breaks %s', (file, _text, rule) => {
    const found = cruise.summary.violations.filter((each) => each.from === file);
    expect(found.map((each) => each.rule.name)).toContain(rule);
  });

  test('files that keep the rules are not accused', () => {
    const clean = new Set(TREE.flatMap(([file, , rule]) => (rule === null ? [file] : [])));
    const accused = cruise.summary.violations.filter((each) => clean.has(each.from));
    expect(accused.map((each) => `${each.rule.name}: ${each.from}`)).toEqual([]);
  });

  test('the browser reaches the server through actions.ts alone', () => {
    expect(findClientReach(cruise.modules, (file: string) => file === 'app/form.ts')).toEqual([
      'client-reach: app/form.ts -> app/middle.ts -> lib/server/rows.ts',
    ]);
    expect(findClientReach(cruise.modules, (file: string) => file === 'app/actions.ts')).toEqual(
      [],
    );
  });
});

test.each([
  'const now = new Date();',
  'const noise = Math.random();',
  "const answer = await fetch('/x');",
  'names.sort((a, b) => a.localeCompare(b));',
  'const id = crypto.randomUUID();',
  'const shown = count.toLocaleString();',
])('core may not say: %s', (line) => {
  expect(findImpure('lib/core/x.ts', `// Date is named here\n${line}`)).toEqual([
    `lib/core/x.ts:2: ${line}`,
  ]);
});
