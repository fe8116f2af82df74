/** The way to the demo, which loads itself after the first start. */
import type { Page } from '@playwright/test';

const DEMO_WITHIN_MS = 120_000;

/** Waits until the demo has loaded itself, its published debrief last; returns its session's path. */
export async function demoSession(page: Page): Promise<string> {
  const deadline = performance.now() + DEMO_WITHIN_MS;
  // Asked without a window: drawing the page again and again would take what the loading needs.
  while (!(await (await page.request.get('/published')).text()).includes('invented demo')) {
    if (performance.now() > deadline) throw new Error('the demo did not load');
    await page.waitForTimeout(200);
  }
  await page.goto('/');
  const row = page.getByRole('row', { name: /invented demo/ });
  return (await row.getByRole('link').first().getAttribute('href')) ?? '';
}
