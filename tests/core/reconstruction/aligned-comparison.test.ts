import { describe, expect, test } from 'vitest';
import type { Track } from '@/lib/core/compare/track';
import { compareAligned, START_QUESTION } from '@/lib/core/reconstruction/aligned-comparison';
import type { CompareTracks } from '@/lib/core/reconstruction/compare-tracks';

const START_S = 50;

/** In from 10 m at 0.1 m/s for 100 s; y swings by `size` about `offset`, `lateS` late. */
function track(name: string, offset: number, lateS = 0, rows = 101): Track {
  const tS = Float64Array.from({ length: rows }, (_, k) => START_S + k);
  const since = tS.map((atS) => atS - START_S);
  return {
    name,
    sha256: 'c'.repeat(64),
    tS,
    spans: [{ from: 0, to: rows }],
    columns: new Map([
      ['range', since.map((s) => 10 - 0.1 * s)],
      ['axial_distance', since.map((s) => 10 - 0.1 * s)],
      ['y', since.map((s) => offset + Math.sin((s - lateS) / 7))],
    ]),
    steps: { final: [START_S, START_S + rows - 1] },
    contactS: rows === 101 ? START_S + 100 : null,
  };
}

const tracks: CompareTracks = {
  pass: { step: 'final', sense: 'inward' },
  flight: track('flight', 0.5, 3),
  runs: [
    ...Array.from({ length: 21 }, (_, k) => track(`run-${k}`, k / 10)),
    track('short', 0, 0, 41),
    { ...track('elsewhere', 0), steps: {} },
  ],
  others: [track('again', 0.5, 3)],
  channels: ['y'],
  sources: [{ file: 'telemetry.csv', sha256: 'a'.repeat(64) }],
  files: 'run-*.csv',
  sha256: 'b'.repeat(64),
};
const y = (asked: Partial<typeof START_QUESTION>) => {
  const answer = compareAligned(tracks, { ...START_QUESTION, ...asked });
  const found = answer.quantities.find(({ name }) => name === 'y');
  if (found === undefined) throw new Error('y was not compared');
  return { answer, y: found };
};

describe('asked in another way', () => {
  test('time within the step counts its seconds, and says who is there', () => {
    const { answer, y: asked } = y({ alignment: { kind: 'time', step: 'final' } });
    expect(answer.unit).toBe('s');
    expect([asked.places[0], asked.places.at(-1)]).toEqual([0, 100]);
    expect(answer.report).toEqual({
      places: asked.places.length,
      whole: 21,
      partly: 1,
      none: ['elsewhere'],
      fromS: START_S,
      toS: START_S + 100,
      reason: null,
    });
    // At 80 s only the 21 whole runs are there: offsets 0 to 2 about one swing, median 1.
    const at = asked.places.indexOf(80);
    expect(asked.p50[at]).toBeCloseTo(1 + Math.sin(80 / 7), 9);
    expect(asked.runsThere[at]).toBe(21);
  });

  test('time from contact runs backwards from it; a run without contact is nowhere', () => {
    const { answer, y: asked } = y({ alignment: { kind: 'event', event: 'contact' } });
    expect([asked.places[0], asked.places.at(-1)]).toEqual([-100, 0]);
    expect(answer.report.none).toEqual(['short']);
    expect(answer.choices.events).toContain('contact');
  });

  test('distance inside another closing step is asked like that of the final one', () => {
    // From 50 m to 20 m in 100 s, then 100 s at rest, then the final step as it was; y of run k is k there.
    const twoSteps = (name: string, yM: number): Track => {
      const own = track(name, 9);
      const early = Float64Array.from({ length: 200 }, (_, k) => START_S - 200 + k);
      const wayM = early.map((_, k) => (k < 100 ? 50 - 0.3 * k : 20));
      const join = (a: Float64Array, b: Float64Array | undefined) =>
        Float64Array.from([...a, ...(b ?? [])]);
      return {
        ...own,
        tS: join(early, own.tS),
        spans: [{ from: 0, to: 301 }],
        columns: new Map([
          ['range', join(wayM, own.columns.get('range'))],
          ['axial_distance', join(wayM, own.columns.get('axial_distance'))],
          [
            'y',
            join(
              early.map(() => yM),
              own.columns.get('y'),
            ),
          ],
        ]),
        steps: {
          ...own.steps,
          'to-20': [START_S - 200, START_S - 100],
          wait: [START_S - 100, START_S - 1],
        },
      };
    };
    const kept: CompareTracks = {
      ...tracks,
      flight: twoSteps('flight', 4),
      runs: Array.from({ length: 21 }, (_, k) => twoSteps(`run-${k}`, k)),
      others: [],
    };
    const asked = compareAligned(kept, {
      ...START_QUESTION,
      alignment: { kind: 'axial', step: 'to-20' },
    });
    const found = asked.quantities.find(({ name }) => name === 'y');
    expect(asked.alignedOn).toBe('axial distance, on the last inward pass inside the step to-20');
    expect([found?.places[0], found?.places.at(-1)]).toEqual([20, 50]);
    // Linear quantiles of 0 to 20: R. J. Hyndman, Y. Fan, 1996, type 7: 1, 10 and 19.
    expect([found?.p05[5], found?.p50[5], found?.p95[5], found?.flight[5]]).toEqual([1, 10, 19, 4]);
    expect(asked.report.toS).toBe(START_S - 100);
    // A step at rest is none to be passed through; the final one is asked anyway.
    expect(asked.choices.closing).toEqual(['to-20']);
    const onlyOne = kept.runs.map((run, k) =>
      k === 7 ? run : { ...run, steps: tracks.flight.steps },
    );
    const alone = compareAligned(
      { ...kept, runs: onlyOne },
      { ...START_QUESTION, alignment: { kind: 'axial', step: 'to-20' } },
    );
    expect([alone.opened, alone.report.none.length]).toEqual(['run-7', 20]);
    const final = compareAligned(kept, START_QUESTION);
    expect(final.alignedOn).toBe('axial distance, on the last inward pass inside the step final');
    expect(final.report.fromS).toBeGreaterThanOrEqual(START_S);
  });

  test('an event that the flight has not had leaves nothing, and no failure', () => {
    const answer = compareAligned(tracks, {
      ...START_QUESTION,
      alignment: { kind: 'event', event: 'start:nothing' },
    });
    expect(answer).toMatchObject({ quantities: [], opened: null, nearest: null });
    expect(answer.report).toMatchObject({
      places: 0,
      fromS: null,
      toS: null,
      reason: 'the flight has no start of nothing',
    });
    // JSON has no infinity and no NaN: what it writes as null must have been null before.
    expect(JSON.parse(JSON.stringify(answer.report))).toEqual(answer.report);
  });
});

test('runs that are at none of the places of the flight are said to be why nothing aligns', () => {
  const nowhere = { ...tracks, runs: [{ ...track('elsewhere', 0), steps: {} }], others: [] };
  const { report, quantities } = compareAligned(nowhere, START_QUESTION);
  expect(quantities).toEqual([]);
  expect(report).toMatchObject({
    fromS: START_S,
    none: ['elsewhere'],
    reason: 'no run is at any place that the flight has',
  });
});

test('what people set of a step marks what is aligned on it, and nothing else', () => {
  const set = { ...tracks, people: { 'step:final': ['Start of Final, set by Ada.'] } };
  const marks = (alignment: typeof START_QUESTION.alignment) =>
    compareAligned(set, { ...START_QUESTION, alignment }).quantities.map(
      ({ flightPlaces, bandPlaces }) =>
        [flightPlaces, bandPlaces].map(({ evidence }) => evidence.people !== undefined).join(),
    );
  expect(new Set(marks({ kind: 'axial' }))).toEqual(new Set(['true,false']));
  expect(new Set(marks({ kind: 'event', event: 'end:final' }))).toEqual(new Set(['true,false']));
  expect(new Set(marks({ kind: 'event', event: 'contact' }))).toEqual(new Set(['false,false']));
});

describe('one run opened', () => {
  test('without a name it is the run most like the flight', () => {
    const { answer } = y({});
    expect(answer.opened).toBe(answer.order[0]?.name);
    // Offsets 0.4, 0.5, 0.6: the swing is late by 3 s, so the one with the flight's offset need not win by much.
    expect(answer.opened).toMatch(/^run-[456]$/);
  });

  test('a run of the same offset is 3 s early and without bias over whole swings', () => {
    const { y: asked } = y({ run: 'run-5', alignment: { kind: 'time', step: 'final' } });
    const [, pair] = asked.pairs;
    expect(pair?.against).toBe('run-5');
    expect(pair?.lag?.value).toBeCloseTo(3, 1);
    expect(Math.abs(pair?.bias.value ?? 1)).toBeLessThan(0.05);
    expect(pair?.bias.evidence.sources.map(({ file }) => file)).toEqual(['telemetry.csv', 'run-5']);
  });

  test('a reconstruction can be opened and makes no band', () => {
    const tolerances = {
      ...START_QUESTION.tolerances,
      kind: 'absolute',
      absolute: { m: 1e-9 },
    } as const;
    const { answer, y: asked } = y({ run: 'again', tolerances });
    expect(answer.order.map(({ name }) => name)).not.toContain('again');
    expect(asked.pairs[1]?.inside.value).toBe(1);
    expect(asked.pairs[0]?.inside.value).toBeLessThan(0.2);
  });
});
