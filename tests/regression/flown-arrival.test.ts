import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { reconstructionFile } from '@/lib/core/reconstruction/contract-file';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { flownSession, TEST_ENGINE } from '../support/flown-session';
import { JOLTED_ARRIVAL, RATE_RULE } from '../support/rate-rule';

/**
 * The whole file of one invented flight, frozen: our own output, no outside value. It is the same on
 * every supported Node to 1e-9. Changing it needs the old value, the new one and the reason in the
 * commit.
 */
function flight(): unknown {
  const input = flownSession({
    ...JOLTED_ARRIVAL,
    seed: 3,
    gapS: [200, 245],
    rules: [RATE_RULE],
    entries: [
      { sourceS: 880, sourceEndS: null, event: 'contact', text: null, speaker: null, line: 2 },
    ],
  });
  return JSON.parse(
    JSON.stringify(reconstructionFile(reconstruct(input, TEST_ENGINE).reconstruction)),
  );
}

/** Same keys, same words, numbers within 1e-9 of their size (1e-9 near zero). */
function expectAlike(actual: unknown, expected: unknown, at: string): void {
  if (typeof expected === 'number') {
    expect(typeof actual, at).toBe('number');
    const off = Math.abs(Number(actual) - expected);
    expect(off, `${at}: ${String(actual)} was ${expected}`).toBeLessThanOrEqual(
      1e-9 * Math.max(1, Math.abs(expected)),
    );
    return;
  }
  if (expected === null || typeof expected !== 'object') {
    expect(actual, at).toBe(expected);
    return;
  }
  expect(actual !== null && typeof actual === 'object', at).toBe(true);
  const given = Object.entries(actual ?? {});
  const wanted = Object.entries(expected);
  expect(
    given.map(([key]) => key),
    at,
  ).toEqual(wanted.map(([key]) => key));
  wanted.forEach(([key, value], index) => {
    expectAlike(given[index]?.[1], value, `${at}.${key}`);
  });
}

test('the frozen flight gives the frozen file', () => {
  const file = path.join(import.meta.dirname, 'flown-arrival.expected.json');
  expectAlike(flight(), JSON.parse(readFileSync(file, 'utf8')), 'file');
});
