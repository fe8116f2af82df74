import { expect, test } from 'vitest';
import { changesView } from '@/lib/view/changes-view';
import { sampleReconstruction } from '../support/sample-reconstruction';

test('what appeared is named in words with its time, and a long list is cut and says so', () => {
  const [exceedance] = sampleReconstruction.exceedances;
  if (exceedance === undefined) throw new Error('the sample has an exceedance');
  const events = Array.from({ length: 130 }, (_, index) => ({
    timeS: 60 + index,
    endS: null,
    source: 'events.csv',
    line: index + 2,
    event: 'mark',
    text: null,
    speaker: null,
  }));
  const after = { ...sampleReconstruction, events };
  const view = changesView({
    cause: 'inputs',
    computedAtIso: '2026-03-01T00:00:00.000Z',
    files: [],
    versions: [
      {
        kind: 'rules',
        entryId: 'e',
        title: 'Arrival rules',
        from: 1,
        to: 2,
        author: 'A',
        reason: 'as agreed',
        atIso: '2026-02-28T10:00:00.000Z',
      },
    ],
    before: sampleReconstruction,
    after,
    changes: {
      verdicts: [{ rule: 'closing-rate', before: 'broken', after: 'met' }],
      figures: [],
      appeared: events.map((_, index) => ({ kind: 'events', index })),
      gone: [{ kind: 'exceedances', index: 0 }],
    },
    publications: [],
  });
  expect(view.appeared.rows).toHaveLength(100);
  expect(view.appeared.rows[0]).toMatchObject({
    what: 'Log entry, events.csv line 2',
    detail: 'mark',
    when: '00:01:00.0',
  });
  expect(view.appeared.more).toBe('30 more are not listed.');
  expect(view.gone.rows[0]?.what).toMatch(/^Exceedance of /);
  expect(view.verdicts).toEqual([
    { key: 'closing-rate', rule: 'Closing rate', before: 'broken', after: 'met' },
  ]);
  expect(view.versions).toEqual([
    {
      key: 'rules 2026-02-28T10:00:00.000Z',
      text: 'Arrival rules, version 2 in place of version 1, put in use by A on 28 Feb 2026, 10:00 UTC: as agreed.',
      href: '/plans/rules/e/compare?from=1&to=2',
    },
  ]);
  expect(view.summary).toContain('130 listed below appeared, 1 is gone');
});
