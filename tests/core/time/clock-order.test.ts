import { expect, test } from 'vitest';
import { type ClockStretch, orderOverMidnight } from '@/lib/core/time/clock-order';

function secondsOf(clock: string): number {
  const [hours = 0, minutes = 0] = clock.split(':').map(Number);
  return hours * 3600 + minutes * 60;
}

/** `22:00-23:59` of each file. */
function stretches(...files: readonly string[]): readonly ClockStretch[] {
  return files.map((text) => {
    const [firstS = 0, lastS = 0] = text.split('-').map(secondsOf);
    return { firstS, lastS };
  });
}

/** The orders are read off a clock of 24 hours by hand. */
test.each([
  ['midnight between two files', ['22:00-23:59', '00:00-02:00'], [0, 1], [1]],
  ['midnight inside a file', ['22:00-00:30', '00:31-02:00'], [0, 1], []],
  ['the same day with a long pause', ['02:00-03:00', '19:00-20:00'], [0, 1], []],
  [
    'two midnights',
    ['12:00-23:50', '00:10-12:00', '12:01-23:00', '01:00-02:00'],
    [0, 1, 2, 3],
    [1, 3],
  ],
  ['a few rows in common after midnight', ['22:00-00:05', '00:03-01:00'], [0, 1], []],
])('%s: the order given stands', (_what, files, order, afterMidnight) => {
  for (const given of ['stated', 'named'] as const) {
    const found = orderOverMidnight(stretches(...files), given);
    expect(found).toEqual({ order, afterMidnight, from: 'given' });
  }
});

test('names that run against the clock give way to it; what a person stated does not', () => {
  const files = stretches('00:00-02:00', '22:00-23:59');
  const found = orderOverMidnight(files, 'named');
  expect(found).toEqual({ order: [1, 0], afterMidnight: [1], from: 'clock' });
  expect(orderOverMidnight(files, 'stated')).toBeNull();
  const sameDay = orderOverMidnight(stretches('11:00-12:00', '10:00-11:00'), 'stated');
  expect(sameDay).toEqual({ order: [1, 0], afterMidnight: [], from: 'clock' });
});

test.each([
  ['a pause that may be the night or half a day', ['15:00-16:00', '04:00-05:00']],
  ['the same times twice, perhaps of two days', ['10:00-11:00', '10:00-11:00']],
  [
    'files that fill the clock under other names',
    ['12:00-18:00', '00:00-06:00', '18:00-23:59', '06:00-12:00'],
  ],
])('%s leaves the order open', (_what, files) => {
  expect(orderOverMidnight(stretches(...files), 'named')).toBeNull();
});
