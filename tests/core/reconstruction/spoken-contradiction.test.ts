import { expect, test } from 'vitest';
import { reviewCallouts } from '@/lib/core/callouts/review-callouts';
import type { ClockSpec } from '@/lib/core/clock/clock-spec';
import { placeLog } from '@/lib/core/reconstruction/placed-sources';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { contradictionText } from '@/lib/core/reconstruction/spoken-contradiction';
import type { EventSource, LogEntry } from '@/lib/core/session/session-input';
import { TEST_ENGINE } from '../../support/flown-session';
import { ALIGNED, AXIAL, OFFSET_S, saidAt, spokenSession } from '../../support/spoken-session';

const RANGES_M = [95, 80, 70, 60, 45, 25, 15, 10, 5];
const ENTRIES = RANGES_M.map((valueM, index) =>
  saidAt(valueM, { lateS: index % 2 ? 1.1 : 0.5, line: 10 + index }),
);

const LOG: Omit<EventSource, 'clock' | 'entries'> = {
  type: 'events',
  file: 'loop.txt',
  sha256: 'b'.repeat(64),
  rowsRead: RANGES_M.length,
  rowsRejected: 0,
};
const tS = Float64Array.from({ length: 2400 }, (_, index) => index);
const TRACK = { tS, rangeM: tS.map((timeS) => AXIAL(timeS).xM) };

/** What the placed log says of its spoken ranges. */
function said(entries: readonly LogEntry[], clock: ClockSpec): readonly string[] {
  const source = { ...LOG, clock, entries };
  const words = { spoken: reviewCallouts(entries, []), byHand: [] };
  const { contradiction } = placeLog(source, words, { track: TRACK, known: [] });
  return contradiction === null ? [] : [contradictionText(contradiction, source.file)];
}

const given = (offsetS: number): ClockSpec => ({ kind: 'given', offsetS, driftPpm: 0 });

/** The same words in feet, the telemetry in metres. */
function inFeet(entry: LogEntry): LogEntry {
  const metres = Number(/[\d.]+/.exec(entry.text ?? '')?.[0]);
  return { ...entry, text: `Range ${(metres / 0.3048).toFixed(0)} metres.` };
}

test('a clock stated 30 s wrong is contradicted by the spoken ranges, with the number', () => {
  const [message, ...others] = said(ENTRIES, given(0));
  expect(others).toEqual([]);
  expect(message).toMatch(/^The ranges spoken in loop\.txt contradict its clock: 9 of the 9/);
  const [, sizeS, halfS] = /times ([\d.]+) ± ([\d.]+) s later/.exec(message ?? '') ?? [];
  expect(Math.abs(Number(sizeS) - OFFSET_S)).toBeLessThanOrEqual(Number(halfS));
  expect(Number(halfS)).toBeLessThan(3);
});

test('a clock stated too large is said to be too large', () => {
  expect(said(ENTRIES, given(OFFSET_S + 40))[0]).toMatch(/times (39|40)\.\d ± .* earlier/);
});

test('nothing is said where the stated clock is the right one, or the words found it', () => {
  expect(said(ENTRIES, given(OFFSET_S))).toEqual([]);
  expect(said(ENTRIES, ALIGNED)).toEqual([]);
});

test('people who are slow are no contradiction', () => {
  const slow = RANGES_M.map((valueM, line) => saidAt(valueM, { lateS: 3, line }));
  expect(said(slow, given(OFFSET_S))).toEqual([]);
});

test('three spoken ranges contradict nothing', () => {
  expect(said(ENTRIES.slice(0, 3), given(0))).toEqual([]);
});

test('two misheard ranges of nine are no contradiction', () => {
  const misheard = ENTRIES.map((entry, index) => (index % 4 === 2 ? inFeet(entry) : entry));
  expect(said(misheard, given(OFFSET_S))).toEqual([]);
  expect(said(misheard, ALIGNED)).toEqual([]);
});

// 0.3048 m to the foot: NIST SP 811, appendix B.8.
test.each([given(OFFSET_S), ALIGNED])(
  'feet taken for metres are named, by a $kind clock',
  (clock) => {
    const [message] = said(ENTRIES.map(inFeet), clock);
    expect(message).toMatch(/contradict the telemetry: \d of the \d agree/);
    expect(message).toContain('3.28 times the measured one: is one in feet and read as metres?');
  },
);

test('the reconstruction notes it as a warning of that log, before anything else', () => {
  const { reconstruction } = reconstruct(spokenSession(ENTRIES, given(0)), TEST_ENGINE);
  expect(reconstruction.notes[0]).toMatchObject({
    code: 'spoken-against-clock',
    severity: 'warning',
    file: 'loop.txt',
  });
});
