/** What every browser journey starts from: one server a worker, and a page that is watched. */
import path from 'node:path';
import { test as base, expect, type Page } from '@playwright/test';
import { DEMO_DATA, startWakeline, type WakelineServer } from './wakeline-server';

const AXE = path.resolve(import.meta.dirname, '../../node_modules/axe-core/axe.min.js');

/** What a browser said against a page: errors on its console, thrown errors, policy violations. */
export type Complaints = Readonly<{
  /** Complaints since the last call. */
  take(): readonly string[];
}>;

type OwnFixtures = Readonly<{ complaints: Complaints }>;
type WorkerFixtures = Readonly<{ wakeline: WakelineServer }>;

/** A page not found is said on the console too; that is the browser's doing, not the page's. */
const ANSWER_OF_A_MISSING_PAGE = /^Failed to load resource: .* 40[0-9]/;
/** The journeys stop the server under open pages. */
const SERVER_IS_AWAY =
  /ERR_CONNECTION_REFUSED|ERR_INCOMPLETE_CHUNKED_ENCODING|ERR_CONNECTION_RESET/;

export const test = base.extend<OwnFixtures, WorkerFixtures>({
  wakeline: [
    // biome-ignore lint/correctness/noEmptyPattern: Playwright reads the names from this pattern
    async ({}, use) => {
      const server = await startWakeline(process.env[DEMO_DATA]);
      await use(server);
      await server.remove();
    },
    { scope: 'worker', timeout: 300_000 },
  ],
  baseURL: async ({ wakeline }, use) => use(wakeline.url),
  complaints: async ({ page }, use) => {
    const heard: string[] = [];
    watch(page, heard);
    page.context().on('page', (other) => watch(other, heard));
    await use({ take: () => heard.splice(0) });
  },
});

export { expect };

function watch(page: Page, heard: string[]): void {
  page.on('pageerror', (error) => heard.push(`${page.url()}: thrown: ${error.message}`));
  page.on('console', (message) => {
    const text = message.text();
    if (message.type() !== 'error') return;
    if (ANSWER_OF_A_MISSING_PAGE.test(text) || SERVER_IS_AWAY.test(text)) return;
    heard.push(`${page.url()}: ${text}`);
  });
}

/** Makes axe available in every page of this tab, beside its own code and under its policy. */
export async function addAxe(page: Page): Promise<void> {
  await page.addInitScript({ path: AXE });
}

type AxeResult = Readonly<{
  violations: readonly Readonly<{
    id: string;
    help: string;
    nodes: readonly Readonly<{ target: readonly unknown[]; failureSummary?: string }>[];
  }>[];
}>;

/** What depends on colours and width alone; the rest is the same however a page is drawn. */
const RULES_OF_LOOKS = ['color-contrast', 'link-in-text-block', 'scrollable-region-focusable'];

/** What axe finds against the page, or a part of it that is there now only, one line each element. */
export async function axeViolations(
  page: Page,
  asked: 'everything' | 'looks',
  within = 'html',
): Promise<readonly string[]> {
  const options = {
    resultTypes: ['violations'],
    ...(asked === 'looks' ? { runOnly: RULES_OF_LOOKS } : {}),
  };
  const { violations } = await page.evaluate(
    async ([part, given]) => {
      const axe: Readonly<{ run: (part: string, options: object) => Promise<AxeResult> }> =
        Reflect.get(window, 'axe');
      return axe.run(part, given);
    },
    [within, options] as const,
  );
  return violations.flatMap(({ id, help, nodes }) =>
    nodes.map(({ target, failureSummary = '' }) => {
      const why = failureSummary.replace(/\s+/g, ' ').slice(0, 240);
      return `${id}: ${help}: ${target.join(' ')}: ${why}`;
    }),
  );
}
