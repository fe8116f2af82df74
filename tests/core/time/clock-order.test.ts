import { expect, test } from 'vitest';
import { type ClockStretch, orderOverMidnight } from '@/lib/core/time/clock-order';
import { dayInName } from '@/lib/core/time/date-in-name';

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

const nightsAt = (...places: readonly number[]) => places.map((at) => ({ at, days: 1 }));

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
    expect(found).toEqual({ order, nights: nightsAt(...afterMidnight), from: 'given' });
  }
});

test('names that run against the clock give way to it; what a person stated does not', () => {
  const files = stretches('00:00-02:00', '22:00-23:59');
  const found = orderOverMidnight(files, 'named');
  expect(found).toEqual({ order: [1, 0], nights: nightsAt(1), from: 'clock' });
  expect(orderOverMidnight(files, 'stated')).toBeNull();
  const sameDay = orderOverMidnight(stretches('11:00-12:00', '10:00-11:00'), 'stated');
  expect(sameDay).toEqual({ order: [1, 0], nights: [], from: 'clock' });
});

test('a stated order may pause over the night; that of the names may not', () => {
  // From 20:00 to 08:00 are 12 hours over midnight; on one day the second would come first, 10 h before.
  const night = stretches('19:00-20:00', '08:00-09:00');
  expect(orderOverMidnight(night, 'stated')).toEqual({
    order: [0, 1],
    nights: nightsAt(1),
    from: 'given',
  });
  expect(orderOverMidnight(night, 'named')).toBeNull();
});

test('a stated order that one day allows too, turned round, is open', () => {
  // 14:00 to 06:30 is 16.5 h over midnight, or five hours from 08:00 to 13:00 of one day.
  expect(orderOverMidnight(stretches('13:00-14:00', '06:30-08:00'), 'stated')).toBeNull();
});

test('dates in the names tell order and days, as long as the times go on in it', () => {
  const files = stretches('08:00-09:00', '19:00-20:00', '07:00-08:00');
  // The days of the files: 2, 1 and 4.
  expect(orderOverMidnight(files, 'named', [2, 1, 4])).toEqual({
    order: [1, 0, 2],
    nights: [
      { at: 1, days: 1 },
      { at: 2, days: 2 },
    ],
    from: 'dates',
  });
  // Midnight inside the first: its end is of the second's day.
  const inside = stretches('22:00-00:30', '00:31-02:00');
  expect(orderOverMidnight(inside, 'named', [1, 2])).toEqual({
    order: [0, 1],
    nights: [],
    from: 'dates',
  });
  // Elapsed time of less than a day goes on from one date to the next.
  const elapsed = stretches('10:00-11:00', '11:01-12:00');
  expect(orderOverMidnight(elapsed, 'named', [1, 2])).toMatchObject({ nights: [], from: 'given' });
  // Dates of the day of a download say nothing: the second would begin before the first ends.
  const later = stretches('22:00-00:30', '00:10-02:00');
  expect(orderOverMidnight(later, 'named', [1, 1])).toMatchObject({ from: 'given' });
});

/** ISO 8601 and common practice of names, no source. */
test.each([
  ['tm-2031-04-17.csv', '2031-04-17'],
  ['20310417_nav.csv', '2031-04-17'],
  ['2031_04_17/nav.csv', '2031-04-17'],
  ['nav.2031-107.csv', '2031-04-17'],
  ['nav.2031107.csv', '2031-04-17'],
  ['nav-2031-13-17.csv', null],
  ['nav-123456789.csv', null],
  ['flight-4.csv', null],
])('the name %s says %s', (name, day) => {
  expect(dayInName(name)).toBe(day === null ? null : Date.parse(day) / 86_400_000);
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
