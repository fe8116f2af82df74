import { expect, test } from 'vitest';
import { changesView } from '@/lib/view/changes-view';
import { sampleFigure } from '../support/sample-figure';
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

test('a figure without a half-width that reads as before is folded with those its uncertainty explains', () => {
  const of = (key: string, from: number, to: number, half: number | null) => ({
    key,
    before: sampleFigure(from, 's', half),
    after: sampleFigure(to, 's', half),
    difference: to - from,
    halfWidths: half === null ? null : Math.abs(to - from) / half,
  });
  const figures = [
    of('steps[a].duration_s', 162, 162.004, null),
    of('steps[b].duration_s', 162, 163, null),
    of('steps[c].duration_s', 162, 162.1, 1),
    of('steps[d].duration_s', 162, 165, 1),
  ];
  const view = changesView({
    cause: 'inputs',
    computedAtIso: '2026-03-01T00:00:00.000Z',
    files: [],
    versions: [],
    before: sampleReconstruction,
    after: sampleReconstruction,
    changes: { verdicts: [], figures, appeared: [], gone: [] },
    publications: [],
  });
  const ids = (rows: typeof view.rows) => rows.map(({ key }) => /\[(.)\]/.exec(key)?.[1]).join();
  expect(ids(view.rows)).toBe('d,b');
  expect(ids(view.within)).toBe('c,a');
});
