/** What a person does on the screens, in one place for every journey. */
import type { Page } from '@playwright/test';
import { expect } from './journey';

type Chosen = Parameters<ReturnType<Page['locator']>['setInputFiles']>[0];

/** Starts an import of loose files or an archive from the page of imports. */
export async function chooseFiles(page: Page, files: Chosen): Promise<void> {
  await page.goto('/import');
  await page.getByLabel('Choose files or a .zip').setInputFiles(files);
  await page.waitForURL(/\/import\/[0-9a-z]{16}$|\/sessions\//);
}

/** Starts an import of a whole folder. */
export async function chooseFolder(page: Page, folder: string): Promise<void> {
  await page.goto('/import');
  await page.getByLabel('Choose a folder').setInputFiles(folder);
  await page.waitForURL(/\/import\/[0-9a-z]{16}$|\/sessions\//);
}

/** Waits for an import to end well and goes to its session; returns the session's path. */
export async function openImported(page: Page): Promise<string> {
  const open = page.getByRole('link', { name: 'Open the session' });
  await expect(async () => {
    const isThere = /\/sessions\//.test(page.url());
    expect(isThere || (await open.isVisible())).toBe(true);
  }).toPass({ timeout: 60_000 });
  if (await open.isVisible()) await open.click();
  await page.waitForURL(/\/sessions\//);
  await expect(page.getByRole('heading', { level: 1 })).toHaveCount(1);
  return new URL(page.url()).pathname;
}

/** On the timeline, by keyboard alone: the cursor goes there and both edges are set. */
export async function selectByKeyboard(page: Page, stepsIn: number): Promise<void> {
  const cursor = page.getByRole('slider', { name: 'Cursor, session time' });
  await cursor.focus();
  for (let step = 0; step < stepsIn; step += 1) await page.keyboard.press('ArrowRight');
  await page.keyboard.press('[');
  for (let step = 0; step < 6; step += 1) await page.keyboard.press('ArrowRight');
  await page.keyboard.press(']');
}

type FindingWords = Readonly<{ title: string; seen: string }>;

/** Writes a finding on the selection and saves it, by keyboard from the cursor on. */
export async function writeFinding(page: Page, { title, seen }: FindingWords): Promise<void> {
  await page.getByRole('slider', { name: 'Cursor, session time' }).focus();
  await page.keyboard.press('w');
  const sheet = page.getByRole('complementary', { name: 'New finding' });
  await sheet.getByLabel('Title').fill(title);
  await sheet.getByLabel('What was seen').fill(seen);
  await sheet.getByRole('button', { name: 'Save the finding' }).press('Enter');
  await expect(page.getByRole('complementary', { name: /^Finding \d+$/ })).toBeVisible();
}
