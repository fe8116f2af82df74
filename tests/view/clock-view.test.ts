import { expect, test } from 'vitest';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { ClockCorrection } from '@/lib/core/session/clock-correction';
import type { RangeEnvelope } from '@/lib/view/clock/clock-drawing';
import { clockView } from '@/lib/view/clock/clock-view';
import type { KeptWord } from '@/lib/view/clock/correction-list';
import { chosenSource, sourceLinks } from '@/lib/view/clock/source-choice';
import { TEST_ENGINE } from '../support/flown-session';
import { ALIGNED, OFFSET_S, passS, saidAt, spokenSession } from '../support/spoken-session';

const ENTRIES = [
  ...[95, 80, 70, 60, 45, 25, 15, 10].map((valueM, index) =>
    saidAt(valueM, { lateS: index % 2 ? 1.1 : 0.5, line: 10 + index }),
  ),
  { ...saidAt(40, { lateS: 9, line: 30 }) },
  { ...saidAt(20, { lateS: 1, line: 31 }), text: 'We expect 20 metres in a minute.' },
  { ...saidAt(50, { lateS: 1, line: 32 }), text: 'Closing at 0.1 metres per second.' },
];

const HAND: ClockCorrection = {
  kind: 'tie-point',
  source: 'loop.txt',
  sourceS: passS(30) - OFFSET_S,
  sessionS: passS(30),
  sdS: 0.2,
  by: 'A. Reviewer',
  reason: 'seen in the camera',
};

const { reconstruction, derived } = reconstruct(
  spokenSession(ENTRIES, ALIGNED, [HAND]),
  TEST_ENGINE,
);
const rangeM = derived.columns.find(({ name }) => name === 'range')?.values ?? new Float64Array();
const RANGE: RangeEnvelope = { tS: derived.tS, leastM: rangeM, mostM: rangeM };

const OF_FOLDER: KeptWord = {
  id: 'folder-0',
  version: 0,
  correction: HAND,
  author: HAND.by ?? '',
  createdAtIso: null,
  undone: null,
  unkept: { kind: 'clock', words: 'as they are written' },
};

function viewOf(more: Readonly<{ kept?: readonly KeptWord[]; range?: RangeEnvelope | null }> = {}) {
  const source = chosenSource(reconstruction.sources, null);
  if (source === null) throw new Error('no source with evidence');
  const { kept = [], range = RANGE } = more;
  return clockView({ reconstruction, source, sessionId: 's', range, kept: [OF_FOLDER, ...kept] });
}

test('the source with the most evidence is shown where none is asked for', () => {
  expect(viewOf().file).toBe('loop.txt');
  const links = sourceLinks(
    reconstruction.sources,
    's',
    chosenSource(reconstruction.sources, null),
  );
  expect(links.map(({ isChosen }) => isChosen)).toEqual([false, true]);
  expect(links[0]?.note).toBe('as stated');
  const stated = reconstruction.sources.filter(({ clock }) => clock.evidence === null);
  expect(chosenSource(stated, null)).toBeNull();
  expect(chosenSource(reconstruction.sources, stated[0]?.file ?? '')?.file).toBe(stated[0]?.file);
});

test('the facts say how the clock came about and that lag and offset cannot be told apart', () => {
  const { facts } = viewOf();
  expect(facts.origin).toMatch(/^Found from 9 tie points \(spoken ranges and calls, 1 of them set/);
  expect(facts.offset.text).toMatch(/^\+30\.\d+.±.0\.\d+.s$/);
  expect(facts.rangeBias?.label).toBe('loop.txt, range bias');
  expect(facts.counts).toBe('9 used, 1 rejected, 1 doubtful, 1 left out');
  const lag = facts.sentences.find(({ term }) => term === 'assumed lag');
  expect(lag?.text).toContain('0.8 s; standard deviation 0.4 s from word to word');
  expect(lag?.text).toContain('cannot tell lag and offset apart');
  expect(facts.sentences.some(({ term }) => term === 'outlier rule')).toBe(true);
});

test('each spoken value and tie point has a row with its state and the reason in words', () => {
  const { rows } = viewOf();
  const row = (line: number) => rows.find(({ place }) => place?.line === line);
  expect(rows).toHaveLength(ENTRIES.length + 1);
  expect(row(10)).toMatchObject({ said: '95 m', state: 'used', words: 'Range 95 metres.' });
  expect(row(10)?.reason).toMatch(/^fits; closing at/);
  expect(row(10)?.href).toMatch(/^\/sessions\/s\/timeline\?from=.*&sel=/);
  expect(row(30)).toMatchObject({ state: 'rejected', weight: '' });
  expect(row(30)?.reason).toMatch(/^outlier: /);
  expect(row(31)?.state).toBe('doubtful');
  expect(row(32)).toMatchObject({ state: 'left out', residual: '', said: '0.1 m/s' });
  expect(rows.find(({ kind }) => kind === 'hand')).toMatchObject({ place: null, sd: '0.20' });
});

test('marks differ by shape and by hollow or filled, each strip has its own scale', () => {
  const { drawing } = viewOf();
  const shapes = new Map(drawing?.marks.map(({ key, shape }) => [key, shape]));
  expect([...new Set(shapes.values())].sort()).toEqual(['bar', 'circle', 'cross', 'triangle']);
  expect(drawing?.legend).toHaveLength(4);
  for (const { before, after, way } of drawing?.marks ?? []) {
    expect(before).not.toBe(after);
    expect(way).toMatch(/^M[\d.]+ [\d.]+H[\d.]+$/);
  }
  const [before, after] = drawing?.strips ?? [];
  expect(before?.yTicks.some(({ text }) => text.startsWith('30'))).toBe(true);
  expect(before?.zero).toBeNull();
  expect(after?.zero).not.toBeNull();
  expect(after?.marks.length).toBe(10);
  expect(JSON.stringify(drawing)).not.toMatch(/NaN|Infinity|null null/);
});

test('a source whose own time lies far away does not squeeze the session', () => {
  const far = spokenSession(
    ENTRIES.map((entry) => ({ ...entry, sourceS: entry.sourceS - 90_000 })),
    ALIGNED,
  );
  const away = reconstruct(far, TEST_ENGINE).reconstruction;
  const source = chosenSource(away.sources, null);
  if (source === null) throw new Error('no source with evidence');
  const asked = { reconstruction: away, source, sessionId: 's', range: RANGE };
  const { drawing, entries } = clockView({ ...asked, kept: [] });
  expect(drawing?.marks.every(({ before }) => before === null)).toBe(true);
  expect(drawing?.note).toContain('too far away to be drawn for 10 of 10');
  expect(entries[0]?.time).toMatch(/^-24:/);
});

test('without an estimated range the table stands alone', () => {
  expect(viewOf({ range: null })).toMatchObject({ drawing: null });
  expect(viewOf({ range: null }).rows.length).toBeGreaterThan(0);
});

test('corrections say who, when, what and why; the folder’s first, the undone marked', () => {
  const place = { source: 'loop.txt', line: 11, nth: 1 };
  const kept = (id: string, correction: ClockCorrection, undone: KeptWord['undone']): KeptWord => ({
    id,
    version: 2,
    correction,
    author: 'B. Reviewer',
    createdAtIso: '2031-04-17T10:30:00.000Z',
    undone,
  });
  const said = { by: 'B. Reviewer', reason: 'heard on the tape' };
  const { corrections } = viewOf({
    kept: [
      kept('c1', { kind: 'correct', ...place, quantity: 'range', saidSi: 12.192, ...said }, null),
      kept(
        'c2',
        { kind: 'reject', ...place, line: 99, ...said },
        {
          by: 'C. Lead',
          atIso: '2031-04-17T11:00:00.000Z',
        },
      ),
      kept('c3', { kind: 'accept', ...place, source: 'other.txt', ...said }, null),
    ],
  });
  expect(corrections).toHaveLength(3);
  expect(corrections[0]).toMatchObject({
    who: 'A. Reviewer',
    when: "with the folder's people.yaml",
    undo: { kind: 'clock', words: 'as they are written' },
  });
  expect(corrections[1]).toMatchObject({
    who: 'B. Reviewer',
    when: '17 Apr 2031, 10:30 UTC',
    what: 'Corrected to a range of 12.192 m: line 11, “Range 80 metres.”',
    why: 'heard on the tape',
    undone: null,
    undo: { id: 'c1', version: 2 },
  });
  expect(corrections[2]?.what).toBe('Rejected: line 99 (no spoken value there)');
  expect(corrections[2]?.undone).toBe('undone by C. Lead, 17 Apr 2031, 11:00 UTC');
});
