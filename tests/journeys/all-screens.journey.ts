/**
 * Every screen, wide and narrow, light and dark: reachable by its links, readable by axe, kept to by
 * the Content-Security-Policy, and operable by keyboard.
 */
import { readdirSync } from 'node:fs';
import path from 'node:path';
import type { APIRequestContext, Page, Response } from '@playwright/test';
import { demoSession } from './demo-session';
import { addAxe, axeViolations, expect, test } from './journey';
import { chooseFiles, openDescription } from './screens';

const APP = path.resolve(import.meta.dirname, '../../app');
const TALL_ENOUGH = 900;
const WIDE = { width: 1440, height: TALL_ENOUGH };
const NARROW = { width: 900, height: TALL_ENOUGH };

/** Routes with a page, as the folders of `app` spell them. */
function pagePatterns(folder = APP): readonly string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const full = path.join(folder, entry.name);
    if (entry.isDirectory()) return pagePatterns(full);
    return entry.name === 'page.tsx' ? [`/${path.relative(APP, folder)}`] : [];
  });
}

type Screen = Readonly<{ pattern: string; address: string; heading: RegExp }>;

/** The demo's rule set, and a preview of it as it stands. */
async function registerScreens(page: Page): Promise<Readonly<{ entry: string; trial: string }>> {
  await page.goto('/plans');
  const rules = page.getByRole('region', { name: 'Rule sets' });
  const entry = await rules.locator('tbody th a').first().getAttribute('href');
  await page.goto(`${entry}/edit`);
  await page.getByRole('button', { name: 'Preview' }).click();
  const trial = await page.getByRole('link', { name: 'Link to this' }).getAttribute('href');
  return { entry: entry ?? '', trial: trial ?? '' };
}

/** One address for each pattern: of the demo, its published debrief and an import that failed. */
async function screensOf(page: Page): Promise<readonly Screen[]> {
  const session = await demoSession(page);
  await chooseFiles(page, { name: 'notes.txt', mimeType: 'text/plain', buffer: Buffer.from('x') });
  await expect(page.getByRole('heading', { name: 'not imported' })).toBeVisible();
  const job = new URL(page.url()).pathname;
  await chooseFiles(page, {
    name: 'telemetry.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from('time_s,x_m,note\n0,20,a\n1,19.9,b\n2,19.8,c\n'),
  });
  await openDescription(page);
  const describe = new URL(page.url()).pathname;
  const { entry, trial } = await registerScreens(page);
  const base = '/sessions/[sessionId]';
  const tabs = [
    'sources',
    'timeline',
    'approach',
    'navigation',
    'contact',
    'comparison',
    'handling',
    'findings',
    'questions',
    'debrief',
  ];
  return [
    { pattern: '/', address: '/', heading: /Sessions/ },
    { pattern: '/import', address: '/import', heading: /Import/ },
    { pattern: '/import/[jobId]', address: job, heading: /not imported/ },
    { pattern: '/import/describe/[uploadId]', address: describe, heading: /What are these files/ },
    { pattern: base, address: session, heading: /overview/i },
    ...tabs.map((tab) => ({
      pattern: `${base}/${tab}`,
      address: `${session}/${tab}`,
      heading: new RegExp(tab, 'i'),
    })),
    { pattern: `${base}/rules`, address: `${session}/rules?at=2058`, heading: /Rules/ },
    {
      pattern: `${base}/phases`,
      address: `${session}/phases?said=all`,
      heading: /Phases/,
    },
    {
      pattern: `${base}/sources/stretches`,
      address: `${session}/sources/stretches`,
      heading: /Stretches of/,
    },
    {
      pattern: `${base}/sources/changes`,
      address: `${session}/sources/changes`,
      heading: /What changed/,
    },
    { pattern: `${base}/sources/clock`, address: `${session}/sources/clock`, heading: /Clock/ },
    { pattern: `${base}/findings/[number]`, address: `${session}/findings/1`, heading: /./ },
    { pattern: `${base}/findings/[number]`, address: `${session}/findings/1?edit`, heading: /./ },
    { pattern: `${base}/debrief`, address: `${session}/debrief?revise`, heading: /debrief/i },
    { pattern: '/plans', address: '/plans', heading: /Plans and rules/ },
    { pattern: '/plans/[kind]/[entryId]', address: entry, heading: /./ },
    { pattern: '/plans/[kind]/[entryId]/edit', address: `${entry}/edit`, heading: /./ },
    { pattern: '/plans/[kind]/[entryId]/compare', address: `${entry}/compare`, heading: /./ },
    { pattern: '/plans/[kind]/new', address: '/plans/plan/new', heading: /A new plan/ },
    { pattern: '/plans/trials/[jobId]', address: trial, heading: /What a change does/ },
    { pattern: '/published', address: '/published', heading: /Published/ },
    { pattern: '/published/[number]/[revision]', address: '/published/2/1', heading: /./ },
    { pattern: `${base}/quick-look`, address: `${session}/quick-look`, heading: /Quick look/ },
    { pattern: 'not found', address: '/no-such-page', heading: /Nothing is kept/ },
  ];
}

function policyOf(answer: Response | null): string {
  return answer?.headers()['content-security-policy'] ?? '';
}

async function overflowPx(page: Page): Promise<number> {
  return page.evaluate(() => {
    const root = document.documentElement;
    return root.scrollWidth - root.clientWidth;
  });
}

/** The same with a word of 300 letters put into every heading, sentence, name and list entry. */
async function overflowWithLongWordsPx(page: Page, widths: readonly (typeof WIDE)[]) {
  await page.evaluate((word) => {
    const holders = 'h1, h2, p, li, dd, main tbody th:not(.num, .right), td.words, header strong';
    for (const holder of document.querySelectorAll(holders)) {
      const text = [...holder.childNodes].find((node) => node.nodeType === Node.TEXT_NODE);
      if (text !== undefined) text.textContent = word;
    }
  }, 'Wakes'.repeat(60));
  const most: number[] = [];
  for (const size of widths) {
    await page.setViewportSize(size);
    most.push(await overflowPx(page));
  }
  return Math.max(...most);
}

/** What of a page cannot be seen or reached when it has the focus; the first stops from the top. */
async function faintStops(page: Page, stops: number): Promise<readonly string[]> {
  const faint: string[] = [];
  for (let stop = 0; stop < stops; stop += 1) {
    await page.keyboard.press('Tab');
    const found = await page.evaluate(() => {
      const focused = document.activeElement;
      if (focused === null || focused === document.body) return null;
      const drawn = (element: Element): boolean => {
        const style = getComputedStyle(element);
        return style.outlineStyle !== 'none' && Number.parseFloat(style.outlineWidth) >= 1;
      };
      const isMarked = drawn(focused) || drawn(focused.parentElement ?? focused);
      return { isMarked, name: focused.outerHTML.slice(0, 120) };
    });
    if (found === null) break;
    if (!found.isMarked) faint.push(found.name);
  }
  return faint;
}

async function sameOriginLinks(page: Page): Promise<readonly string[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll('a[href]:not([href^="#"])')].flatMap((link) => {
      const url = new URL(link.getAttribute('href') ?? '', location.href);
      return url.origin === location.origin ? [`${url.pathname}${url.search}`] : [];
    }),
  );
}

/** A link's path with the names of its query: `/sessions/x/timeline?from&to`. */
function kindOfLink(link: string): string {
  const [path = '', query = ''] = link.split('?');
  return `${path}?${[...new URLSearchParams(query).keys()].join('&')}`;
}

/** One link of each kind: a session has hundreds into its timeline. */
function oneOfEachKind(links: ReadonlySet<string>): readonly string[] {
  return [...new Map([...links].map((link) => [kindOfLink(link), link])).values()];
}

async function deadLinks(
  request: APIRequestContext,
  links: readonly string[],
): Promise<readonly string[]> {
  const dead: string[] = [];
  for (const link of links) {
    const answer = await request.get(link);
    if (answer.status() >= 400) dead.push(`${link}: ${answer.status()}`);
    await answer.dispose();
  }
  return dead;
}

test('every screen keeps to its policy, and axe, keyboard and narrow windows find no fault', async ({
  page,
  request,
  complaints,
}) => {
  const screens = await screensOf(page);
  // The newest revision by its number is the page of that revision, under a shorter address; what
  // changed between two is looked at where a second one is published.
  const elsewhere = ['/published/[number]', '/published/[number]/[revision]/changes'];
  const checked = [...screens.map(({ pattern }) => pattern), ...elsewhere];
  expect(pagePatterns().filter((pattern) => !checked.includes(pattern))).toEqual([]);
  const links = new Set<string>();
  await addAxe(page);
  await page.setViewportSize(WIDE);
  for (const { pattern, address, heading } of screens) {
    await test.step(pattern, async () => {
      await page.emulateMedia({ colorScheme: 'light' });
      const answer = await page.goto(address);
      await expect(page.getByRole('heading', { level: 1, name: heading })).toHaveCount(1);
      expect.soft(policyOf(answer), pattern).toMatch(/script-src 'self' 'nonce-/);
      expect.soft(policyOf(answer), pattern).not.toMatch(/unsafe-inline|unsafe-eval/);
      for (const link of await sameOriginLinks(page)) links.add(link);
      expect.soft(await axeViolations(page, 'everything'), `${pattern}, light`).toEqual([]);
      expect.soft(await faintStops(page, 6), `${pattern}, focus`).toEqual([]);
      expect.soft(await overflowPx(page), `${pattern}, wide`).toBeLessThanOrEqual(0);
      await page.emulateMedia({ colorScheme: 'dark' });
      await page.setViewportSize(NARROW);
      expect.soft(await axeViolations(page, 'looks'), `${pattern}, dark, narrow`).toEqual([]);
      expect.soft(await overflowPx(page), `${pattern}, narrow`).toBeLessThanOrEqual(0);
      expect.soft(complaints.take(), `${pattern}, complaints`).toEqual([]);
      const widened = await overflowWithLongWordsPx(page, [NARROW, WIDE]);
      expect.soft(widened, `${pattern}, a word of 300 letters`).toBeLessThanOrEqual(0);
    });
  }
  expect(links.size).toBeGreaterThan(screens.length);
  expect(await deadLinks(request, oneOfEachKind(links))).toEqual([]);
});
