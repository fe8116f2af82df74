/** How soon the first pages stand there, and how much script the Overview brings: over loopback, cold cache. */
import { gzipSync } from 'node:zlib';
import { type Browser, chromium, type Page } from '@playwright/test';
import { demoSession } from '../journeys/demo-session';
import { findBrowser } from '../journeys/find-browser';
import { startWakeline } from '../journeys/wakeline-server';
import { type Bench, type BenchRow, median } from './bench';

const ROUNDS = 7;
const PAINT_LIMIT_S = 1;
const SCRIPT_LIMIT_KB = 200;

type Loaded = Readonly<{ paintS: number; scriptKb: number }>;

/** The newest candidate once the page has come to rest. */
async function largestPaintS(page: Page): Promise<number> {
  const paintMs = await page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        const observer = new PerformanceObserver((list) => {
          observer.disconnect();
          resolve(Math.max(...list.getEntries().map(({ startTime }) => startTime)));
        });
        observer.observe({ type: 'largest-contentful-paint', buffered: true });
      }),
  );
  return paintMs / 1000;
}

/** One visit by a browser that has never been here. */
async function visit(browser: Browser, url: string): Promise<Loaded> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  const page = await context.newPage();
  const scripts: Promise<Buffer>[] = [];
  page.on('response', (response) => {
    if (response.request().resourceType() === 'script') scripts.push(response.body());
  });
  await page.goto(url, { waitUntil: 'networkidle' });
  const paintS = await largestPaintS(page);
  const bytes = (await Promise.all(scripts)).reduce((sum, body) => sum + gzipSync(body).length, 0);
  await context.close();
  return { paintS, scriptKb: bytes / 1000 };
}

async function visitOften(browser: Browser, url: string): Promise<readonly Loaded[]> {
  await visit(browser, url);
  const loads: Loaded[] = [];
  for (let round = 0; round < ROUNDS; round += 1) loads.push(await visit(browser, url));
  return loads;
}

function paintRow(what: string, loads: readonly Loaded[]): BenchRow {
  return {
    what: `largest paint of ${what}`,
    unit: 's',
    measured: median(loads.map(({ paintS }) => paintS)),
    against: 'the limit',
    reference: PAINT_LIMIT_S,
    must: 1,
    aim: 0.5,
    detail: `median of ${ROUNDS} first visits over loopback, 1440 x 900`,
  };
}

async function run(say: (text: string) => void): Promise<readonly BenchRow[]> {
  say('starting a server with the demo');
  const server = await startWakeline();
  const browser = await chromium.launch(findBrowser());
  try {
    const page = await browser.newPage({ baseURL: server.url });
    const overview = `${server.url}${await demoSession(page)}`;
    await page.close();
    const first = await visitOften(browser, server.url);
    const second = await visitOften(browser, overview);
    return [
      paintRow('the sessions page', first),
      paintRow('a session’s Overview', second),
      {
        what: 'script of the Overview, gzip',
        unit: 'kB',
        measured: median(second.map(({ scriptKb }) => scriptKb)),
        against: 'the limit',
        reference: SCRIPT_LIMIT_KB,
        must: 1,
        aim: 0.8,
        detail: 'every script asked for until the page is at rest, each packed by itself',
      },
    ];
  } finally {
    await browser.close();
    await server.remove();
  }
}

export const firstPageBench: Bench = { name: 'first-page', run };
