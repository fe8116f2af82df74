/** The way to the demo, which loads itself after the first start. */
import type { APIRequestContext, Page } from '@playwright/test';

const DEMO_WITHIN_MS = 120_000;

/** Waits until the demo has loaded itself, the debrief of its newer flight last. */
export async function demoLoaded(request: APIRequestContext): Promise<void> {
  const deadline = performance.now() + DEMO_WITHIN_MS;
  // Asked without a window: drawing the page again and again would take what the loading needs.
  while (!(await (await request.get('/published')).text()).includes('Debrief of Wherry 2')) {
    if (performance.now() > deadline) throw new Error('the demo did not load');
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
}

/** Waits for the demo as `demoLoaded` does; returns the path of its newer flight, which stands first. */
export async function demoSession(page: Page): Promise<string> {
  await demoLoaded(page.request);
  await page.goto('/');
  const row = page.getByRole('row', { name: /invented demo/ });
  return (await row.getByRole('link').first().getAttribute('href')) ?? '';
}
