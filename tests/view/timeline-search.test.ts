/** Words found on the timeline, and what a finding on a stretch might say. */
import { expect, test } from 'vitest';
import { timelineView } from '@/lib/view/timeline';
import { timelineClock } from '@/lib/view/timeline-clock';
import { searchHits } from '@/lib/view/timeline-search';
import { soughtView } from '@/lib/view/timeline-sought';
import { nextSuggestion, suggestFindings } from '@/lib/view/timeline-suggestions';
import { toldView } from '@/lib/view/timeline-told';
import { sampleAnnotations, sampleFindings } from '../support/sample-findings';
import { sampleReconstruction } from '../support/sample-reconstruction';

const sent = timelineView({
  sessionId: 's',
  reconstruction: sampleReconstruction,
  channels: [],
  findings: sampleFindings,
  annotations: sampleAnnotations,
});
const view = toldView(sent, timelineClock({ kind: 'session' }, sent));

test('every word has to be there, big and small letters alike, in time order', () => {
  expect(searchHits(view, '  ')).toEqual([]);
  const [word = ''] = (view.log[0]?.text ?? '').split(' ');
  const hits = searchHits(view, word.toUpperCase());
  expect(hits.length).toBeGreaterThan(0);
  for (const { kind, text } of hits)
    expect(`${kind} ${text}`.toLowerCase()).toContain(word.toLowerCase());
  expect(hits.map(({ fromS }) => fromS)).toEqual(
    hits.map(({ fromS }) => fromS).sort((a, b) => a - b),
  );
  expect(searchHits(view, `${word} nowhere-at-all`)).toEqual([]);
});

test('a finding is found by what was seen too, and opens', () => {
  const finding = sampleFindings[0];
  const hits = searchHits(view, finding?.seen ?? '');
  expect(hits.some(({ sheet }) => sheet?.kind === 'finding' && sheet.id === finding?.id)).toBe(
    true,
  );
});

test('no sentence of the lanes keeps a time that no clock has written', () => {
  const bars = [...view.phases, ...view.plan, ...view.beyond, ...view.faults, ...view.remarks];
  for (const { detail } of bars) expect(detail).not.toContain('\u2063');
  expect(view.beyond[0]?.detail).toMatch(/from 00:\d\d:\d\d\.\d/);
});

test('what was computed in a stretch is suggested, the gravest first, one after the other', () => {
  const [beyond] = view.beyond;
  if (beyond === undefined) throw new Error('the sample has a stretch beyond a limit');
  const suggestions = suggestFindings(view, beyond);
  expect(suggestions[0]?.title).toBe(`${beyond.label} beyond its limit`);
  expect(suggestions[0]?.seen).toContain(beyond.detail);
  expect(suggestFindings(view, { fromS: 1e6, toS: 2e6 })).toEqual([]);
  const first = nextSuggestion(suggestions, { title: '', seen: '' });
  expect(first).toEqual(suggestions[0]);
  if (first === null) return;
  expect(nextSuggestion(suggestions, first)).toEqual(suggestions[1 % suggestions.length]);
  expect(nextSuggestion(suggestions, { title: 'My own words', seen: '' })).toBeNull();
});

test('a stretch beyond a value is told in the unit of the screen, its trace in its box', () => {
  const condition = { of: 'value', sense: 'above', limit: 0.02, leastS: 2 } as const;
  const trace = { tS: [0, 1, 2, 3], low: [0, 0, 0.04, 0], high: [0, 0.03, 0.04, 0] };
  const { asked, sessions } = soughtView(
    [
      {
        sessionId: 's',
        title: 'A session',
        key: 'nav.csv:roll',
        unit: 'rad',
        sources: [],
        count: 1,
        stretches: [{ fromS: 1, toS: 2.5, worst: 0.04, worstS: 2, trace }],
      },
    ],
    condition,
    'nav.csv:roll',
  );
  // By hand: 0.02 rad are 1.146 deg, 0.04 rad 2.292 deg.
  expect(asked).toMatch(/above 1\.15 deg for 2\.0 s$/);
  const row = sessions[0]?.rows[0];
  expect(row?.worst.text).toMatch(/2\.29.deg/);
  expect(row?.trace.fromX).toBe(40);
  expect(row?.trace.path.startsWith('M0 31L40 31V')).toBe(true);
});
