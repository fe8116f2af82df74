/** Writes seed/pictures/*.png: the screens of a server that has nothing but the demo. */
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { chromium, type Page } from '@playwright/test';
import { demoSession } from './demo-session';
import { findBrowser } from './find-browser';
import { packPng } from './pack-png';
import { startWakeline } from './wakeline-server';

const FOLDER = path.resolve('seed', 'pictures');
const SIZE = { width: 1440, height: 900 };
const MOST_BYTES = 200_000;

async function take(page: Page, name: string): Promise<void> {
  await page.evaluate(() => document.fonts.ready.then(() => null));
  await page.waitForTimeout(400);
  const file = path.join(FOLDER, `${name}.png`);
  const shot = packPng(await page.screenshot({ animations: 'disabled', caret: 'hide' }));
  writeFileSync(file, shot);
  console.log(`${path.relative('.', file)}: ${Math.round(shot.length / 1000)} kB`);
  if (shot.length > MOST_BYTES) console.error(`${name} is larger than ${MOST_BYTES / 1000} kB`);
}

/** The demo's gravest finding on its stretch of the timeline, its words and figures beside it. */
async function openFinding(page: Page, session: string): Promise<void> {
  await page.goto(`${session}/findings`);
  const when = page.getByRole('row').nth(1).getByRole('link').last();
  await page.goto((await when.getAttribute('href')) ?? '', { waitUntil: 'networkidle' });
  await page.locator('[data-bar]').filter({ hasText: /^1 / }).first().click();
  // Away from what shows a tip under the pointer.
  await page.mouse.move(2, 2);
  await page.evaluate(() => scrollTo(0, 0));
  await page.waitForLoadState('networkidle');
}

async function takeAll(page: Page): Promise<void> {
  const session = await demoSession(page);
  const open = (address: string) => page.goto(address, { waitUntil: 'networkidle' });
  await open(session);
  await take(page, 'overview');
  await open(`${session}/timeline`);
  await take(page, 'timeline');
  await openFinding(page, session);
  await take(page, 'finding');
  await open(`${session}/debrief?revise`);
  await page.getByRole('heading', { name: 'What was flown' }).evaluate((heading) => {
    scrollTo(0, heading.getBoundingClientRect().top + scrollY - 70);
  });
  await take(page, 'debrief');
  await open('/published/2/1');
  await take(page, 'published');
}

mkdirSync(FOLDER, { recursive: true });
const server = await startWakeline();
const browser = await chromium.launch(findBrowser());
try {
  const context = await browser.newContext({
    baseURL: server.url,
    viewport: SIZE,
    deviceScaleFactor: 1,
    colorScheme: 'light',
    locale: 'en-GB',
    timezoneId: 'UTC',
    reducedMotion: 'reduce',
  });
  await takeAll(await context.newPage());
} finally {
  await browser.close();
  await server.remove();
}
