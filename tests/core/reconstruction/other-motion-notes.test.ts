import { expect, test } from 'vitest';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { TelemetrySource } from '@/lib/core/session/session-input';
import { expectWithin } from '../../support/expect-within';
import {
  FLOWN_PLAN,
  flownTelemetry,
  plannedArrival,
  sessionOf,
  TEST_ENGINE,
} from '../../support/flown-session';

const whole = flownTelemetry({ axial: plannedArrival(), durationS: 400 });

/** The rows from one time up to another, under a name. */
function part(file: string, fromS: number, toS: number): TelemetrySource {
  const from = whole.tS.findIndex((atS) => atS >= fromS);
  const to = whole.tS.findLastIndex((atS) => atS <= toS) + 1;
  return {
    ...whole,
    file,
    tS: whole.tS.slice(from, to),
    channels: whole.channels.map((each) => ({ ...each, values: each.values.slice(from, to) })),
  };
}

const notesOn = (...sources: readonly TelemetrySource[]) =>
  reconstruct(sessionOf(sources, FLOWN_PLAN), TEST_ENGINE).reconstruction.notes.filter(
    ({ message }) => message.includes('is not used'),
  );

/** Without its measured velocity. */
const bare = (source: TelemetrySource): TelemetrySource => ({
  ...source,
  channels: source.channels.filter(({ as }) => !as.startsWith('velocity.')),
});

test('a position measured at times without motion is a warning that names both spans', () => {
  const [warning, ...more] = notesOn(bare(part('far.csv', 120, 150)), part('near.csv', 140, 400));
  expect(more).toEqual([]);
  expect(warning).toMatchObject({
    code: 'motion-of-one-source',
    severity: 'warning',
    file: 'far.csv',
  });
  expect(warning?.message).toContain('near.csv alone, which covers 00:02:20.0 to 00:06:40.0');
  expect(warning?.message).toContain('far.csv covers 00:02:00.0 to 00:02:30.0');
});

test('one that goes on with the same quantities is used, and a note says from when', () => {
  const sources = [part('far.csv', 0, 150), part('near.csv', 140, 400)];
  expect(notesOn(...sources)).toEqual([]);
  const { notes } = reconstruct(sessionOf(sources, FLOWN_PLAN), TEST_ENGINE).reconstruction;
  const joined = notes.find(({ code }) => code === 'motion-joined');
  expect(joined?.message).toContain('from far.csv, and from 00:02:20.0 on from near.csv');
});

test('one without rates that tells of much more time is used, and a note says that rates are derived', () => {
  const sources = [bare(part('far.csv', 0, 150)), part('near.csv', 140, 400)];
  expect(notesOn(...sources)).toEqual([]);
  const { notes, phases } = reconstruct(sessionOf(sources, FLOWN_PLAN), TEST_ENGINE).reconstruction;
  expect(phases.map(({ step }) => step)).toEqual(['hold-100', 'to-30']);
  // By hand: the hold of 60 s is left at 0.02 m/s after 2 s at 0.01 m/s2; the source with rates begins at 140 s.
  expectWithin(phases[1]?.startS.value, 62, 8, 'the allowance without velocity');
  const joined = notes.find(({ code }) => code === 'motion-joined');
  expect(joined?.message).toContain('not all of them rates, so these are derived from position');
});

test('one that was measured beside it is a note', () => {
  const beside = notesOn(part('one.csv', 0, 400), part('two.csv', 5, 395));
  expect(beside).toMatchObject([
    { code: 'second-motion-source', severity: 'note', file: 'two.csv' },
  ]);
});

test('of two that cover the same time the one with a measured velocity shows the motion', () => {
  const [used, ...more] = notesOn(bare(part('one.csv', 0, 400)), part('two.csv', 5, 395));
  expect(more).toEqual([]);
  expect(used).toMatchObject({ code: 'second-motion-source', file: 'one.csv' });
});
