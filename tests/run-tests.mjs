// `npm test`: the checks, every test, and the browser journeys. Ends with what passed and what did not
// run and why; under CI nothing may be missing.
//
// All at once, because none of them keeps a processor busy all the time; the browser journeys and the
// checks wait for the build. The tests give way to them: they fill what the journeys leave, which wait
// for pages more often than for a processor.
import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, statfsSync } from 'node:fs';
import { constants, setPriority, tmpdir } from 'node:os';
import path from 'node:path';

const CI = process.env.CI !== undefined && process.env.CI !== '' && process.env.CI !== 'false';

/** A file system in memory, and what must be free of it and of the memory itself; at most 0.4 GB were seen to be used. */
const IN_MEMORY = '/dev/shm';
const ROOM_BYTES = 4e9;

/** Where temporary files lie: in memory if there is room, because every commit waits until its disk has it. */
function scratchRoot() {
  if (process.env.TMPDIR !== undefined || !existsSync(IN_MEMORY)) return tmpdir();
  const { bavail, bsize } = statfsSync(IN_MEMORY);
  return Math.min(bavail * bsize, process.availableMemory()) > ROOM_BYTES ? IN_MEMORY : tmpdir();
}

const work = mkdtempSync(path.join(scratchRoot(), 'wakeline-test-'));
// What tests put into the temporary folder goes with it at the end.
const env = { ...process.env, TZ: 'UTC', NO_COLOR: '1', TMPDIR: work };
delete env.FORCE_COLOR;
const children = new Set();
const LAST_WORDS_MS = 3000;

// However it ends, the folder goes: what is left of it in memory would stay there.
process.once('exit', () => {
  for (const child of children) child.kill('SIGKILL');
  rmSync(work, { recursive: true, force: true, maxRetries: 5 });
});
let isStopping = false;
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'])
  process.on(signal, () => {
    const end = () => process.exit(128 + constants.signals[signal]);
    if (isStopping) end();
    isStopping = true;
    // A terminal interrupts the children too, and twice would not let them end what they started.
    if (signal !== 'SIGINT') for (const child of children) child.kill('SIGINT');
    setTimeout(end, LAST_WORDS_MS);
  });

const missing = [];
const started = Date.now();

function heading(text) {
  console.log(`\n[${((Date.now() - started) / 1000).toFixed(1)} s] ${text}`);
}

/** Runs a program of Node's to its end and keeps what it prints, in the order in which it came. */
function call(args, { more = {}, givesWay = false } = {}) {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, args, {
      env: { ...env, ...more },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    children.add(child);
    if (givesWay && child.pid !== undefined)
      setPriority(child.pid, constants.priority.PRIORITY_BELOW_NORMAL);
    let text = '';
    for (const stream of [child.stdout, child.stderr])
      stream.setEncoding('utf8').on('data', (part) => {
        text += part;
      });
    child.once('error', (error) => resolve({ status: 1, text: `${text}${error.message}\n` }));
    child.once('close', (status) => {
      children.delete(child);
      resolve({ status: status ?? 1, text });
    });
  });
}

/** A part's own output under its heading; the parts of two lanes do not mix. */
function show(name, { text }) {
  heading(name);
  process.stdout.write(text);
}

async function runChecks() {
  await building; // it writes types that the checks read
  const run = await call(['tests/check.mjs']);
  show('checks', run);
  const count = (mark) => run.text.split('\n').filter((line) => line.startsWith(mark)).length;
  const [passed, failed] = [count('ok   check '), count('FAIL check ')];
  return { passed, failed: failed === 0 && (run.status !== 0 || passed === 0) ? 1 : failed };
}

async function runVitest() {
  const report = path.join(work, 'vitest.json');
  const run = await call(
    [
      'node_modules/vitest/vitest.mjs',
      'run',
      '--config',
      'tests/vitest.config.ts',
      '--reporter=dot',
      '--reporter=json',
      `--outputFile.json=${report}`,
    ],
    { givesWay: true },
  );
  show('tests', run);
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

function findChromium() {
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

async function runJourneys() {
  const chromium = findChromium();
  if (chromium === null) {
    missing.push('browser journeys: no Chromium found (install it, or name it in CHROMIUM_PATH)');
    return { passed: 0, failed: 0, skipped: 1 };
  }
  const built = await building;
  if (built.status !== 0) {
    show('the web application could not be built, no journey has run', built);
    return { passed: 0, failed: 1 };
  }
  const report = path.join(work, 'journeys.json');
  const run = await call(
    [
      'node_modules/@playwright/test/cli.js',
      'test',
      '--config',
      'tests/journeys/playwright.config.ts',
    ],
    { more: { CHROMIUM_PATH: chromium, PLAYWRIGHT_JSON_OUTPUT_NAME: report } },
  );
  show('browser journeys', run);
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

const building = call(['lib/cli/run.mjs', 'prepare']);
heading('build and browser journeys beside tests and checks: several minutes');
const sayOn = setInterval(() => heading('still running'), 60_000);
const ended = await Promise.all([runJourneys(), runVitest(), runChecks()]);
clearInterval(sayOn);

heading('done');
const total = { passed: 0, failed: 0, skipped: 0 };
for (const { passed, failed, skipped = 0 } of ended) {
  total.passed += passed;
  total.failed += failed;
  total.skipped += skipped;
}
for (const reason of missing) console.log(`did not run: ${reason}`);
if (CI && missing.length > 0) total.failed += missing.length;
console.log(`${total.passed} passed, ${total.failed} failed, ${total.skipped} skipped`);
process.exit(total.failed === 0 ? 0 : 1);
