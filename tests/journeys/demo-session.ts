/** The way to the demo, which loads itself after the first start. */
import type { Page } from '@playwright/test';

const DEMO_WITHIN_MS = 120_000;

/** Waits until the demo has loaded itself, its published debrief last; returns its session's path. */
export async function demoSession(page: Page): Promise<string> {
  const row = page.getByRole('row', { name: /invented demo/ });
  const deadline = performance.now() + DEMO_WITHIN_MS;
  await page.goto('/published');
  while ((await row.count()) === 0) {
    if (performance.now() > deadline) throw new Error('the demo did not load');
    await page.waitForTimeout(300);
    await page.goto('/published');
  }
  await page.goto('/');
  return (await row.getByRole('link').first().getAttribute('href')) ?? '';
}
