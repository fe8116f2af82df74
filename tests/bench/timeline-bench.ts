/** The timeline in a browser, on sessions of more and more rows: first strips, redrawing, cursor, heap. */
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { type Browser, chromium, type Page } from '@playwright/test';
import { demoSession } from '../journeys/demo-session';
import { findBrowser } from '../journeys/find-browser';
import { startWakeline } from '../journeys/wakeline-server';
import { type Bench, type BenchRow, median, secondsOf } from './bench';
import { SENSORS, writeTimelineFolder } from './timeline-folder';
import { cursorMovesMs, firstStripsMs, heapBytes, turnWheel, type Wheel } from './timeline-probe';

const FIRST_ROUNDS = 5;
const WHEEL_TURNS = 40;
const CURSOR_MOVES = 80;
const FEW_ZOOMS = 60;
const MANY_ZOOMS = 600;
const SMALL = 100_000;
const MIDDLE = 2_000_000;
const LARGE = 20_000_000;
const IMPORT_WITHIN_MS = 900_000;
/** Two of the motion, six of the sensors. */
const STRIPS = ['range', 'closing_rate', ...SENSORS.map((name) => `sensors.csv:${name}`)];

type Measured = Readonly<{
  rows: number;
  firstMs: readonly number[];
  drawnMs: readonly number[];
  refinedMs: readonly number[];
}>;

type Say = (text: string) => void;

/** Writes, sends and imports a session of so many rows; returns its path. */
async function importRows(page: Page, rows: number, say: Say): Promise<string> {
  const folder = mkdtempSync(path.join(tmpdir(), 'wakeline-bench-'));
  try {
    const writingS = await secondsOf(async () => writeTimelineFolder(folder, rows));
    let session = '';
    const importS = await secondsOf(async () => {
      await page.goto('/import');
      const files = readdirSync(folder).map((name) => path.join(folder, name));
      await page.getByLabel('Choose files or a .zip').setInputFiles(files);
      await page.waitForURL(/\/import\/[0-9a-z]{16}$|\/sessions\//, { timeout: IMPORT_WITHIN_MS });
      const link = page.getByRole('link', { name: /^(Open the session|See what it changed)$/ });
      await Promise.race([
        link.waitFor({ timeout: IMPORT_WITHIN_MS }),
        page.waitForURL(/\/sessions\//, { timeout: IMPORT_WITHIN_MS }),
      ]);
      session = /\/sessions\//.test(page.url())
        ? new URL(page.url()).pathname
        : ((await link.getAttribute('href')) ?? '');
    });
    say(
      `${rows} rows: written in ${writingS.toFixed(0)} s, sent and imported in ${importS.toFixed(0)} s`,
    );
    return session.split('/').slice(0, 3).join('/');
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function timelineOf(session: string): string {
  return `${session}/timeline?strips=${STRIPS.map(encodeURIComponent).join(',')}`;
}

/** In and out again, left and right: every turn shows a window that was not shown before. */
function wheelAt(turn: number): Wheel {
  const at = 0.2 + ((turn * 29) % 61) / 100;
  const phase = turn % 6;
  if (phase === 4) return { at, deltaX: 130 + turn, deltaY: 0, control: 'free' };
  const deltaY = phase < 2 ? -140 - turn / 7 : phase === 5 ? 260 : 12 + turn / 5;
  return { at, deltaX: 0, deltaY, control: 'held' };
}

async function openTimeline(browser: Browser, url: string): Promise<Page> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  const page = await context.newPage();
  await firstStripsMs(page, url, STRIPS.length);
  await page.waitForFunction(
    (wanted) => document.querySelectorAll('canvas[data-grain="fine"]').length === wanted,
    STRIPS.length,
  );
  return page;
}

async function firstVisits(browser: Browser, url: string): Promise<readonly number[]> {
  const times: number[] = [];
  for (let round = 0; round <= FIRST_ROUNDS; round += 1) {
    const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
    times.push(await firstStripsMs(await context.newPage(), url, STRIPS.length));
    await context.close();
  }
  // The first visit warms the server's own caches up.
  return times.slice(1);
}

async function measure(browser: Browser, url: string, rows: number): Promise<Measured> {
  const firstMs = await firstVisits(browser, url);
  const page = await openTimeline(browser, url);
  const drawnMs: number[] = [];
  const refinedMs: number[] = [];
  for (let turn = 0; turn < WHEEL_TURNS; turn += 1) {
    const redrawn = await turnWheel(page, wheelAt(turn));
    drawnMs.push(redrawn.drawnMs);
    refinedMs.push(redrawn.refinedMs);
  }
  await page.context().close();
  return { rows, firstMs, drawnMs, refinedMs };
}

/**
 * Bytes after some turns of the wheel, the whole session shown again: the points of what is drawn are a good part
 * of the heap, and another window holds others.
 */
async function heapAfter(page: Page, turns: number): Promise<number> {
  for (let turn = 0; turn < turns; turn += 1) await turnWheel(page, wheelAt(turn));
  await page.getByRole('button', { name: 'Whole session', exact: true }).click();
  await page.waitForFunction(
    (wanted) => document.querySelectorAll('canvas[data-grain="fine"]').length === wanted,
    STRIPS.length,
  );
  return heapBytes(page);
}

function limitRow(
  what: string,
  ms: readonly number[],
  limits: Readonly<{ mustMs: number; aimMs: number; detail: string }>,
): BenchRow {
  return {
    what,
    unit: 's',
    measured: median(ms) / 1000,
    reference: limits.mustMs / 1000,
    against: 'the limit',
    must: 1,
    aim: limits.aimMs / limits.mustMs,
    detail: limits.detail,
  };
}

function rowsOf(measured: Measured): readonly BenchRow[] {
  const size = `${measured.rows / 1e6} million rows`;
  return [
    limitRow(`first strips, ${size}`, measured.firstMs, {
      mustMs: 1000,
      aimMs: 500,
      detail: `median of ${FIRST_ROUNDS} visits by a browser that has never been here, eight strips, 1440 x 900`,
    }),
    limitRow(`zoom or pan refined, ${size}`, measured.refinedMs, {
      mustMs: 150,
      aimMs: 60,
      detail: `median of ${WHEEL_TURNS} turns of the wheel; drawn from what is there after ${median(measured.drawnMs).toFixed(0)} ms`,
    }),
  ];
}

function flatRow(what: string, small: readonly number[], large: readonly number[]): BenchRow {
  return {
    what,
    unit: 's',
    measured: median(large) / 1000,
    reference: median(small) / 1000,
    against: `the same with ${SMALL / 1e6} million`,
    must: 1.3,
    aim: 1.1,
    detail: 'medians of the rows above',
  };
}

async function run(say: Say, sizes: readonly number[]): Promise<readonly BenchRow[]> {
  say('starting a server');
  const server = await startWakeline();
  const browser = await chromium.launch(findBrowser());
  try {
    const page = await browser.newPage({ baseURL: server.url });
    await demoSession(page);
    const sessions: Readonly<{ rows: number; url: string }>[] = [];
    for (const rows of sizes)
      sessions.push({ rows, url: `${server.url}${timelineOf(await importRows(page, rows, say))}` });
    await page.close();
    const all: Measured[] = [];
    for (const { rows, url } of sessions) {
      say(`looking at ${rows} rows`);
      all.push(await measure(browser, url, rows));
    }
    const largest = sessions.at(-1)?.url ?? '';
    const looked = await openTimeline(browser, largest);
    const moves = await cursorMovesMs(looked, CURSOR_MOVES);
    say(`${MANY_ZOOMS} turns of the wheel`);
    const few = await heapAfter(await openTimeline(browser, largest), FEW_ZOOMS);
    const heap = { few, many: await heapAfter(looked, MANY_ZOOMS) };
    return [...all.flatMap(rowsOf), ...flatRows(all), cursorRow(moves), heapRow(heap)];
  } finally {
    await browser.close();
    await server.remove();
  }
}

function flatRows(all: readonly Measured[]): readonly BenchRow[] {
  const [small] = all;
  const large = all.at(-1);
  if (small === undefined || large === undefined || small === large) return [];
  const size = `${large.rows / 1e6} million rows`;
  return [
    flatRow(`first strips, ${size}, against few`, small.firstMs, large.firstMs),
    flatRow(`refined, ${size}, against few`, small.refinedMs, large.refinedMs),
  ];
}

function cursorRow(moves: readonly number[]): BenchRow {
  return limitRow('script of one cursor move over eight strips', moves, {
    mustMs: 8,
    aimMs: 4,
    detail: `median of ${CURSOR_MOVES} moves of the pointer, as the browser counts its script time`,
  });
}

function heapRow({ few, many }: Readonly<{ few: number; many: number }>): BenchRow {
  return {
    what: `heap after ${MANY_ZOOMS} zooms`,
    unit: 'kB',
    measured: many / 1000,
    reference: few / 1000,
    against: `after ${FEW_ZOOMS}`,
    must: 1.1,
    aim: 1.02,
    detail:
      'bytes of data after a sweep, compiled code left out, the whole session shown both times',
  };
}

export const timelineBench: Bench = {
  name: 'timeline',
  run: (say) => run(say, [SMALL, MIDDLE]),
};

/** With twenty million rows: a file of 1.3 GB is written, sent and imported. */
export const timelineLargeBench: Bench = {
  name: 'timeline-large',
  run: (say) => run(say, [SMALL, MIDDLE, LARGE]),
};
