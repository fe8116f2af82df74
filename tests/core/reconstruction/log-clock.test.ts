import { expect, test } from 'vitest';
import type { ClockSpec } from '@/lib/core/clock/clock-spec';
import { reconstructionFile } from '@/lib/core/reconstruction/contract-file';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { ClockCorrection } from '@/lib/core/session/clock-correction';
import { TEST_ENGINE } from '../../support/flown-session';
import { ALIGNED, AXIAL, OFFSET_S, saidAt, spokenSession } from '../../support/spoken-session';

const RANGES_M = [95, 80, 70, 60, 45, 25, 15, 10, 5];
const ENTRIES = RANGES_M.map((valueM, index) =>
  saidAt(valueM, { lateS: index % 2 ? 1.1 : 0.5, line: 10 + index }),
);

function run(...input: Parameters<typeof spokenSession>) {
  const { reconstruction } = reconstruct(spokenSession(...input), TEST_ENGINE);
  const clock = reconstruction.sources.find(({ file }) => file === 'loop.txt')?.clock;
  if (clock === undefined) throw new Error('no log');
  return { reconstruction, clock };
}

test('a log is put on session time, and each word stands there with its residual', () => {
  const { clock } = run(ENTRIES, ALIGNED);
  expect(Math.abs((clock.offsetS.value ?? 0) - OFFSET_S)).toBeLessThan(0.5);
  expect(clock.evidence).toMatchObject({ basis: 'callouts', lag: { lagS: 0.8, lagSdS: 0.4 } });
  expect(clock.evidence?.ties).toHaveLength(RANGES_M.length);
  expect(clock.evidence?.residualRmsBeforeS).toBeGreaterThan(29);
  expect(clock.evidence?.residualRmsAfterS).toBeLessThan(0.5);
  // The mean lag's own 0.1 s is apart: more words do not make it smaller.
  expect(clock.offsetS.uncertainty?.systematic).toBeCloseTo(0.196, 3);
});

test('a callout is held against the telemetry by the clock without it, so it never proves itself', () => {
  const late = ENTRIES.map((entry, index) =>
    index === 4 ? { ...entry, sourceS: entry.sourceS + 1.2 } : entry,
  );
  const { reconstruction, clock } = run(late, ALIGNED);
  const tie = clock.evidence?.ties.find(({ spokenIndex }) => spokenIndex === 4);
  const callout = reconstruction.callouts.find(({ line }) => line === 14);
  if (tie?.without === undefined || tie.without === null) throw new Error('not left out');
  const { offsetS, driftPpm } = tie.without;
  const meantS = tie.sourceS + offsetS + tie.sourceS * driftPpm * 1e-6 - 0.8;
  expect(callout?.telemetry.value).toBeCloseTo(AXIAL(meantS).xM, 1);
  expect(callout?.telemetry.method).toContain('without these words');
  // Left out, the late word lies farther from the clock than its residual in the fit of all.
  const fittedS = tie.residualS ?? 0;
  const leftOutS = (tie.sessionS ?? 0) - (meantS + 0.8);
  expect(Math.abs(leftOutS)).toBeGreaterThan(Math.abs(fittedS));
});

test('a single callout tells the clock and nothing else', () => {
  const { reconstruction } = run(ENTRIES.slice(1, 2), ALIGNED);
  expect(reconstruction.callouts[0]).toMatchObject({
    difference: { value: null, reason: expect.stringContaining('Only these words') },
  });
});

test('beside a clock that was given the spoken ranges are shown and not used', () => {
  const given: ClockSpec = { kind: 'given', offsetS: 25, driftPpm: 0 };
  const { clock } = run(ENTRIES, given);
  expect(clock).toMatchObject({ tiePointsUsed: 0, offsetS: { value: 25 } });
  expect(clock.evidence).toMatchObject({ basis: 'given' });
  expect(clock.evidence?.ties.every(({ used }) => !used)).toBe(true);
  expect(clock.evidence?.residualRmsAfterS).toBeCloseTo(5, 0);
});

test('people reject a callout, correct another, and set a tie point', () => {
  const place = { source: 'loop.txt', nth: 1, by: null, reason: null };
  const { reconstruction, clock } = run(ENTRIES, ALIGNED, [
    { kind: 'reject', ...place, line: 10 },
    { kind: 'correct', ...place, line: 11, quantity: 'range', saidSi: 40 },
    {
      kind: 'tie-point',
      source: 'loop.txt',
      sourceS: 400,
      sessionS: 430,
      sdS: 0.2,
      by: null,
      reason: null,
    },
  ]);
  const kinds = clock.evidence?.ties.map(({ kind }) => kind);
  expect(kinds?.filter((kind) => kind === 'hand')).toHaveLength(1);
  expect(clock.evidence?.ties.some(({ line }) => line === 10)).toBe(false);
  expect(clock.evidence?.ties.find(({ line }) => line === 11)?.used).toBe(false);
  const reviews = reconstruction.callouts.map(({ line, review }) => [line, review]);
  expect(reviews).toContainEqual([10, 'rejected']);
  expect(reviews).toContainEqual([11, 'corrected']);
});

test('a tie point set by hand takes the place of a given clock', () => {
  const hand: ClockCorrection = {
    kind: 'tie-point',
    source: 'loop.txt',
    sourceS: 400,
    sessionS: 431,
    sdS: 0.2,
    by: null,
    reason: null,
  };
  const { clock } = run(ENTRIES, { kind: 'given', offsetS: 0, driftPpm: 0 }, [hand]);
  expect(clock).toMatchObject({ offsetS: { value: 31 }, tiePointsUsed: 1 });
  expect(clock.evidence?.basis).toBe('tie-points');
});

test('the file keeps the keys of the contract', () => {
  const { reconstruction } = run(ENTRIES, ALIGNED);
  const file: unknown = JSON.parse(JSON.stringify(reconstructionFile(reconstruction)));
  expect(file).toHaveProperty('sources[1].clock.residual_rms_s');
  expect(file).not.toHaveProperty('sources[1].clock.evidence');
});
