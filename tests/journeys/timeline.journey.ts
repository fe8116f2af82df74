/** The timeline as a place to work: by keyboard alone, in two tabs, with times typed as people say them. */
import type { Page } from '@playwright/test';
import { demoSession } from './demo-session';
import { expect, test } from './journey';

const FINDINGS = 6;
const MOST_PRESSES = 12;
/** Two tabs, a browser and a server share a busy machine here; the stream's two seconds have their test. */
const SEEN_WITHIN_MS = 60_000;

/** The lanes' contents in words: a bracket without room for its title is there too. */
function entry(page: Page, title: string) {
  return page.getByRole('listitem').filter({ hasText: title });
}

function timeField(page: Page, label: 'from' | 'to') {
  return page.getByRole('region', { name: 'Selection', exact: true }).getByLabel(label);
}

test('six findings by keyboard alone, undone and done again under the eyes of another tab', async ({
  page,
  context,
  complaints,
}) => {
  const session = await demoSession(page);
  await page.goto(`${session}/timeline`);
  const cursor = page.getByRole('slider', { name: 'Cursor, session time' });
  await expect(cursor).toBeFocused();
  for (let index = 1; index <= FINDINGS; index += 1) {
    let presses = 0;
    const press = (key: string) => {
      presses += 1;
      return page.keyboard.press(key);
    };
    await press('p');
    await press('s');
    await press('w');
    await expect(page.getByLabel('Title')).toBeFocused();
    await page.keyboard.type(`By keys ${index}`);
    await press('Tab');
    await page.keyboard.type('As the stretch shows.');
    await press('Control+Enter');
    await expect(page.getByRole('complementary', { name: /^Finding \d+$/ })).toBeFocused();
    await press('Escape');
    await expect(cursor).toBeFocused();
    expect(presses, `finding ${index}`).toBeLessThanOrEqual(MOST_PRESSES);
  }

  const other = await context.newPage();
  await other.goto(`${session}/timeline`);
  const last = `By keys ${FINDINGS}`;
  await expect(entry(other, last)).toHaveCount(1);
  await page.bringToFront();
  const within = { timeout: SEEN_WITHIN_MS };
  await page.keyboard.press('u');
  await expect(entry(page, last)).toHaveCount(0);
  await expect(entry(other, last)).toHaveCount(0, within);
  await page.keyboard.press('U');
  await expect(entry(page, last)).toHaveCount(1);
  await expect(entry(other, last)).toHaveCount(1, within);

  await other.bringToFront();
  await entry(other, last).getByRole('button', { name: 'open' }).click();
  await other.getByLabel('Title').fill('Put better elsewhere');
  await other.getByLabel('Title').press('Control+Enter');
  await expect(entry(page, 'Put better elsewhere')).toHaveCount(1);
  await page.bringToFront();
  await page.keyboard.press('u');
  const refused = page.getByRole('alert').filter({ hasText: /^Not undone: somebody else has/ });
  await expect(refused).toBeVisible();
  await expect(entry(page, 'Put better elsewhere')).toHaveCount(1);
  await other.close();
  expect(complaints.take()).toEqual([]);
});

test('a time is typed in the code at hand; an end before the start is refused, not moved', async ({
  page,
  complaints,
}) => {
  const session = await demoSession(page);
  await page.goto(`${session}/timeline`);
  const cursor = page.getByRole('slider', { name: 'Cursor, session time' });
  await expect(cursor).toBeFocused();
  // The demo's zero is 13:05:00 UTC: no session time of it, but a clock time in it.
  // The cursor has the focus as soon as it is drawn; the keys are heard a moment later.
  const goTo = page.getByRole('textbox', { name: 'Go to' });
  await expect(async () => {
    await page.keyboard.press('g');
    await expect(goTo).toBeFocused({ timeout: 500 });
  }).toPass();
  await goTo.fill('13:30:00');
  await page.keyboard.press('Enter');
  await expect(cursor).toBeFocused();
  await expect(cursor).toHaveAttribute('aria-valuetext', '00:25:00.0');
  await timeField(page, 'from').fill('00:00:30');
  await timeField(page, 'from').press('Enter');
  await timeField(page, 'to').fill('00:00:10');
  await timeField(page, 'to').press('Enter');
  await expect(page.getByText(/^Earlier than the start, 00:00:30\.0/)).toBeVisible();
  await expect(timeField(page, 'from')).toHaveValue('00:00:30.0');
  await timeField(page, 'to').fill('13:06:30 UTC');
  await timeField(page, 'to').press('Enter');
  await expect(timeField(page, 'to')).toHaveValue('00:01:30.0');
  const table = page.getByRole('region', { name: 'Between the ends of the selection' });
  await expect(table.getByRole('row', { name: /^Range/ })).toBeVisible();

  // The same moment on the clock of the wall, words found on the axis, a channel beyond a value.
  await cursor.focus();
  await page.keyboard.press('t');
  const onUtc = page.getByRole('slider', { name: 'Cursor, UTC' });
  await expect(onUtc).toHaveAttribute('aria-valuetext', /^13:\d\d:\d\d\.\d$/);
  await expect(timeField(page, 'to')).toHaveValue('13:06:30.0 UTC');
  await page.keyboard.press('/');
  await page.keyboard.type('hundred');
  await page.keyboard.press('Enter');
  const sheet = page.getByRole('complementary', { name: 'Search' });
  await expect(sheet.getByRole('list', { name: 'What was found' })).toContainText(/hundred/i);
  await sheet.getByLabel('Value, m/s').fill('0.36');
  await sheet.getByLabel('Value, m/s').press('Enter');
  await expect(sheet.getByText(/above 0\.360 m\/s: \d+ stretch/)).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(onUtc).toBeFocused();

  // What was computed is taken with one key.
  await page.keyboard.press('X');
  await page.keyboard.press('s');
  await page.keyboard.press('w');
  await page.keyboard.press('ArrowDown');
  await expect(page.getByLabel('Title')).toHaveValue(/beyond its limit$/);
  await expect(page).toHaveURL(/axis=utc/);

  // In the gap of the telemetry, with a strip that is not there: both are said.
  await page.goto(`${session}/timeline?from=803&to=809&strips=range,no_such_strip`);
  await expect(
    page.getByText(/^No samples in this window\. The nearest: before about/),
  ).toBeVisible();
  await expect(page.getByText(/^The address names the strip no_such_strip/)).toBeVisible();
  await expect(page.getByRole('definition').filter({ hasText: 'no rate' })).toBeVisible();
  expect(complaints.take()).toEqual([]);
});
