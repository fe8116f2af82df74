import { describe, expect, test } from 'vitest';
import { lastPublishedView } from '@/lib/view/debrief/published-view';
import { draftNotice, publishedNotice } from '@/lib/view/debrief/touched-notice';

const LAST = {
  number: 7,
  revision: 1,
  publishedAtIso: '2016-03-08T10:31:12.345Z',
  isWithdrawn: false,
};
const saved = (updatedAtIso: string) => ({ by: 'First reviewer', updatedAtIso });

describe('what stands above a debrief that was published', () => {
  test('a draft saved before publishing is what was published: nothing has been begun', () => {
    const view = lastPublishedView(LAST, saved('2016-03-08T10:31:12.344Z'), 's1');
    expect(view.begun).toBeNull();
    expect(view.reviseLabel).toBe('Begin revision 2');
    expect(view.text).toContain('published on 2016-03-08 10:31 UTC.');
  });

  test('what was withdrawn is said to be', () => {
    const { text } = lastPublishedView({ ...LAST, isWithdrawn: true }, null, 's1');
    expect(text).toContain('published on 2016-03-08 10:31 UTC and has been withdrawn.');
  });

  test('a draft saved since then is said, with who and when, and can be gone on with', () => {
    const view = lastPublishedView(LAST, saved('2016-03-09T08:02:00.000Z'), 's1');
    expect(view.begun).toBe(
      'Revision 2 has been begun and is not published: its draft was last changed on 2016-03-09 08:02 UTC by First reviewer.',
    );
    expect(view.reviseLabel).toBe('Go on with revision 2');
    expect(view.reviseHref).toBe('/sessions/s1/debrief?revise=1');
  });

  test('without a draft nothing has been begun', () => {
    expect(lastPublishedView(LAST, null, 's1').begun).toBeNull();
  });
});

describe('what is said once a session was computed again', () => {
  const number = (published: string, now: string | null) => ({
    blockId: 'block-1',
    key: 'contact.closing_rate_mps',
    sentence: 'Closing at it.',
    published,
    now,
  });
  const since = (...numbers: ReturnType<typeof number>[]) => ({
    sessionId: 's1',
    computedAtIso: '2016-03-10T09:00:00.000Z',
    numbers,
  });

  test('a published debrief counts the numbers that read otherwise, and stays as it is', () => {
    const notice = publishedNotice(
      since(number('0.0741', '0.0752'), number('0.09', null), number('1.20', '1.20')),
    );
    expect(notice?.text).toContain('10 Mar 2016, 09:00 UTC: 2 numbers of this revision read');
    expect(notice?.text).toContain('What is published stays as it is.');
    expect(notice?.href).toBe('/sessions/s1/sources/changes');
  });

  test('nothing is said where every number reads as before, or nothing was computed since', () => {
    expect(publishedNotice(since(number('1.20', '1.20')))).toBeNull();
    expect(publishedNotice(null)).toBeNull();
  });

  test('a draft saved before the newest computation is told, one saved after it is not', () => {
    const computed = '2016-03-10T09:00:00.000Z';
    expect(draftNotice({ updatedAtIso: '2016-03-10T08:59:59.999Z' }, computed, 's1')?.text).toMatch(
      /computed again on 10 Mar 2016, 09:00 UTC, after this draft was last saved/,
    );
    expect(draftNotice({ updatedAtIso: '2016-03-10T09:00:00.001Z' }, computed, 's1')).toBeNull();
    expect(draftNotice(null, computed, 's1')).toBeNull();
  });
});
