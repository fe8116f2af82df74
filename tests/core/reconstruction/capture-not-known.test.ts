import { expect, test } from 'vitest';
import { captureFigures } from '@/lib/core/reconstruction/capture-figures';
import type { LoggedEntry } from '@/lib/core/sequence/sighting';
import { DEFAULT_CAPTURE } from '@/lib/core/session/capture-plan';

/** Logs that name every stage but damping; the telemetry has ended long before. */
const entries = [
  'contact',
  ...DEFAULT_CAPTURE.stages.filter(({ stage }) => stage !== 'damping').map(({ event }) => event),
].map(
  (event, index): LoggedEntry => ({
    timeS: 500 + 20 * index,
    source: 'events.csv',
    line: 2 + index,
    event,
    text: null,
    speaker: null,
  }),
);

test('damping that no telemetry could show is not known, and is not out of order', () => {
  const capture = captureFigures({
    contact: { timeS: 500, halfS: null, basis: 'event' },
    session: null,
    sources: [],
    entries,
    plan: null,
    origins: { motion: { sources: [], channels: [] }, files: new Map() },
  });
  expect(capture?.settling.reason).toBe('No telemetry follows first touch.');
  const damping = capture?.stages.find(({ stage }) => stage === 'damping');
  expect(damping).toMatchObject({
    seen: [],
    outOfOrder: null,
    notKnown: 'no telemetry follows first touch',
  });
  // What a log names is known, whatever the telemetry does.
  const others = capture?.stages.filter(({ stage }) => stage !== 'damping') ?? [];
  expect(others.every(({ seen, notKnown }) => seen.length > 0 && notKnown === undefined)).toBe(
    true,
  );
});
