import { describe, expect, test } from 'vitest';
import { lastPublishedView } from '@/lib/view/debrief/published-view';

const LAST = { number: 7, revision: 1, publishedAtIso: '2016-03-08T10:31:12.345Z' };
const saved = (updatedAtIso: string) => ({ by: 'First reviewer', updatedAtIso });

describe('what stands above a debrief that was published', () => {
  test('a draft saved before publishing is what was published: nothing has been begun', () => {
    const view = lastPublishedView(LAST, saved('2016-03-08T10:31:12.344Z'), 's1');
    expect(view.begun).toBeNull();
    expect(view.reviseLabel).toBe('Begin revision 2');
    expect(view.text).toContain('published on 2016-03-08 10:31 UTC');
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
