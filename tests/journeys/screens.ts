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
  const open = page.getByRole('link', { name: /^(Open the session|See what it changed)$/ });
  // One without anything to read goes on by itself, perhaps while it is looked at.
  await expect(async () => {
    if (!/\/sessions\//.test(page.url())) await open.click({ timeout: 1_000 });
    await page.waitForURL(/\/sessions\//, { timeout: 1_000 });
  }).toPass({ timeout: 180_000, intervals: [100] });
  await expect(page.getByRole('heading', { level: 1 })).toHaveCount(1);
  return new URL(page.url()).pathname;
}

/** After files without a session.yaml were sent: goes to where they are described. */
export async function openDescription(page: Page): Promise<void> {
  const describe = page.getByRole('link', { name: 'Describe the files' });
  await expect(async () => {
    if (!/\/describe\//.test(page.url())) await describe.click({ timeout: 1_000 });
    await page.waitForURL(/\/describe\//, { timeout: 1_000 });
  }).toPass({ timeout: 180_000, intervals: [100] });
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

/** The text of a debrief that is being written. */
export function debriefText(page: Page) {
  return page.getByRole('textbox', { name: 'Text of the debrief' });
}

/** Types into the draft and waits until it is said to be saved. */
export async function typeInDraft(
  page: Page,
  place: 'start' | 'end',
  words: string,
): Promise<void> {
  await debriefText(page).focus();
  await page.keyboard.press(place === 'start' ? 'Control+Home' : 'Control+End');
  if (place === 'start') await page.keyboard.press('End');
  await page.keyboard.type(words);
  await expect(debriefText(page)).toContainText(words.trim());
}

/** What the page says about the draft: saved, and as which version. */
export function saveLine(page: Page) {
  return page.getByRole('region', { name: 'Draft' }).getByRole('status').filter({ hasText: /\S/ });
}

/** Waits for a save that is newer than a version; returns its own. */
export async function savedAfter(page: Page, version: number): Promise<number> {
  let saved = version;
  await expect(async () => {
    const text = (await saveLine(page).textContent()) ?? '';
    saved = Number(/^Saved, version (\d+)$/.exec(text)?.[1] ?? version);
    expect(saved).toBeGreaterThan(version);
  }).toPass({ timeout: 120_000, intervals: [100] });
  return saved;
}

/** Drafts the debrief of a session that has none; returns the version. */
export async function draftDebrief(page: Page, session: string): Promise<number> {
  await page.goto(`${session}/debrief`);
  await page.getByRole('button', { name: 'Draft the debrief' }).click();
  await expect(debriefText(page)).toBeVisible({ timeout: 120_000 });
  return savedAfter(page, 0);
}

/** Publishes what is being written; ends on the published page and returns its path. */
export async function publishDraft(page: Page): Promise<string> {
  await page.getByRole('button', { name: 'Publish…' }).click();
  const dialog = page.getByRole('dialog');
  const reason = dialog.getByLabel('Reason for this revision');
  if (await reason.isVisible()) await reason.fill('What was said later is in it now.');
  await dialog.getByRole('button', { name: /^Publish/ }).click();
  await page.waitForURL(/\/published\/\d+\/\d+$/, { timeout: 180_000 });
  await expect(page.getByRole('article')).toBeVisible();
  return new URL(page.url()).pathname;
}
