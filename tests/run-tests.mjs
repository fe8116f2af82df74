// `npm test`: the checks, every test, and the browser journeys. Ends with what passed and what did not
// run and why; under CI nothing may be missing.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { runChecks } from './check.mjs';

const CI = process.env.CI !== undefined && process.env.CI !== '' && process.env.CI !== 'false';
const work = mkdtempSync(path.join(tmpdir(), 'wakeline-test-'));
// What tests put into the temporary folder goes with it at the end.
const env = { ...process.env, TZ: 'UTC', NO_COLOR: '1', TMPDIR: work };
const total = { passed: 0, failed: 0, skipped: 0 };
const missing = [];
const started = Date.now();

function add({ passed, failed, skipped = 0 }) {
  total.passed += passed;
  total.failed += failed;
  total.skipped += skipped;
}

function heading(text) {
  console.log(`\n[${((Date.now() - started) / 1000).toFixed(1)} s] ${text}`);
}

function runVitest() {
  const report = path.join(work, 'vitest.json');
  const run = spawnSync(
    process.execPath,
    [
      'node_modules/vitest/vitest.mjs',
      'run',
      '--config',
      'tests/vitest.config.ts',
      '--reporter=dot',
      '--reporter=json',
      `--outputFile.json=${report}`,
    ],
    { stdio: 'inherit', env },
  );
  if (!existsSync(report)) return { passed: 0, failed: 1 };
  const result = JSON.parse(readFileSync(report, 'utf8'));
  for (const file of result.testResults)
    for (const test of file.assertionResults)
      if (test.status === 'pending' || test.status === 'skipped' || test.status === 'todo')
        missing.push(
          `test "${test.title}" in ${path.relative(process.cwd(), file.name)} is skipped`,
        );
  const brokenFiles = result.testResults.filter(
    (file) => file.status === 'failed' && file.assertionResults.length === 0,
  ).length;
  const failed = result.numFailedTests + brokenFiles;
  return {
    passed: result.numPassedTests,
    failed: failed === 0 && run.status !== 0 ? 1 : failed,
    skipped: result.numPendingTests,
  };
}

export function findChromium() {
  const stated = process.env.CHROMIUM_PATH;
  if (stated !== undefined && stated !== '') return existsSync(stated) ? stated : null;
  return (
    // The one without a window of its own takes a quarter less of the processor.
    [
      '/usr/bin/chromium-headless-shell',
      '/usr/bin/chromium',
      '/usr/bin/chromium-browser',
      '/usr/bin/google-chrome',
    ].find((file) => existsSync(file)) ?? null
  );
}

function runJourneys() {
  const chromium = findChromium();
  if (chromium === null) {
    missing.push('browser journeys: no Chromium found (install it, or name it in CHROMIUM_PATH)');
    return { passed: 0, failed: 0, skipped: 1 };
  }
  const report = path.join(work, 'journeys.json');
  const run = spawnSync(
    process.execPath,
    [
      'node_modules/@playwright/test/cli.js',
      'test',
      '--config',
      'tests/journeys/playwright.config.ts',
    ],
    {
      stdio: 'inherit',
      env: { ...env, CHROMIUM_PATH: chromium, PLAYWRIGHT_JSON_OUTPUT_NAME: report },
    },
  );
  if (!existsSync(report)) return { passed: 0, failed: 1 };
  const { stats } = JSON.parse(readFileSync(report, 'utf8'));
  if (stats.skipped > 0) missing.push(`${stats.skipped} browser journeys are skipped`);
  const failed = stats.unexpected + stats.flaky;
  return {
    passed: stats.expected,
    failed: failed === 0 && run.status !== 0 ? 1 : failed,
    skipped: stats.skipped,
  };
}

heading('checks');
add(runChecks());
heading('tests');
add(runVitest());
heading('browser journeys');
add(runJourneys());
rmSync(work, { recursive: true, force: true });

heading('done');
for (const reason of missing) console.log(`did not run: ${reason}`);
if (CI && missing.length > 0) total.failed += missing.length;
console.log(`${total.passed} passed, ${total.failed} failed, ${total.skipped} skipped`);
process.exit(total.failed === 0 ? 0 : 1);
