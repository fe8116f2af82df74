import { expect, test } from 'vitest';
import { samplesBeside } from '@/lib/view/charts/strip-reading';
import { quantityLabel } from '@/lib/view/strip-words';
import {
  fieldTime,
  lastWords,
  noSamplesText,
  parseSessionTime,
  readingText,
  utcText,
} from '@/lib/view/timeline-readout';
import { stretchCsv, stretchTable } from '@/lib/view/timeline-table';

/** Source of the leap second: IERS Bulletin C 52 (2016); TAI-UTC 36 s before, 37 s after. */
test('a session across a leap second reads 23:59:60 in UTC', () => {
  // 2016-12-31T23:59:59 UTC is 1483228799 s of Unix time.
  const zero = `${(1483228799n + 36n) * 1_000_000_000n}`;
  expect(utcText(zero, 0)).toBe('2016-12-31 23:59:59.0');
  expect(utcText(zero, 1.5)).toBe('2016-12-31 23:59:60.5');
  expect(utcText(zero, 2)).toBe('2017-01-01 00:00:00.0');
});

test('a pixel with one value reads it, with several reads both ends, without reads so', () => {
  expect(readingText({ low: 0.2714, high: 0.2711 }, 3)).toBe('0.271');
  expect(readingText({ low: -1, high: 2 }, 1)).toBe('−1.0 to 2.0');
  expect(readingText(null, 2)).toBe('none');
});

test('the last words are those at or before the cursor', () => {
  const log = [1, 5, 5, 9].map((tS, index) => ({
    id: `${index}`,
    tS,
    kind: 'said' as const,
    speaker: null,
    text: `${index}`,
  }));
  expect(lastWords(log, 0.9)).toBeNull();
  expect(lastWords(log, 5)?.text).toBe('2');
  expect(lastWords(log, 100)?.text).toBe('3');
});

test('session times are read as people write them, and written so that they come back', () => {
  expect(parseSessionTime('00:18:14.5')).toBe(1094.5);
  expect(parseSessionTime('18:14')).toBe(1094);
  expect(parseSessionTime('1094,5')).toBe(1094.5);
  expect(parseSessionTime('-00:00:10')).toBe(-10);
  for (const text of ['', 'soon', '1:2:3:4', '00:10:75', '1e3', '--1'])
    expect(parseSessionTime(text), text).toBeNull();
  for (const tS of [0, -3.25, 1094.5, 7261.125, 3599.999])
    expect(parseSessionTime(fieldTime(tS))).toBeCloseTo(tS, 6);
});

test('a column of the program has words, one of a file keeps its name with the file beside it', () => {
  expect(quantityLabel('closing_rate')).toBe('Closing rate');
  expect(quantityLabel('attitude_error@telemetry.csv')).toBe('Attitude error (telemetry.csv)');
  expect(quantityLabel('nav/telemetry.csv:roll_err')).toBe('roll_err (nav/telemetry.csv)');
  expect(quantityLabel('limit.closing-rate')).toBe('Limit: Closing rate');
  expect(quantityLabel('port_pressure')).toBe('port_pressure');
});

const columns = [
  {
    key: 'range',
    unit: 'm',
    tS: Float64Array.from([1, 2, 3, 4]),
    values: Float64Array.from([10, 20, Number.NaN, 30]),
  },
  {
    key: 'a,"b"',
    unit: 'rad',
    tS: Float64Array.from([2, 4]),
    values: Float64Array.from([Math.PI, -Math.PI]),
  },
];

test('statistics leave missing samples out and are in the reader’s unit', () => {
  const { statistics } = stretchTable(columns, 10);
  // By hand: 10, 20, 30 have mean 20 and population deviation sqrt(200/3) = 8.165.
  expect(statistics[0]).toMatchObject({
    count: '3',
    least: '10.00',
    mean: '20.00',
    deviation: '8.16',
  });
  expect(statistics[1]).toMatchObject({ unit: 'deg', least: '−180.00', greatest: '180.00' });
});

test('a long stretch shows rows spread over it and says how many there are', () => {
  const { rows, note } = stretchTable(columns, 2);
  expect(rows.map((row) => row.tS)).toEqual([1, 3]);
  expect(note).toBe('Every 2nd of 4 rows; the file holds all.');
});

test('the file holds every row of every column in the unit of the screen, an empty cell where there is no sample', () => {
  expect([...stretchCsv(columns)]).toEqual([
    'session_time_s,range [m],"a,""b"" [deg]"',
    '1,10,',
    '2,20,180',
    '3,,',
    '4,30,-180',
  ]);
});

test('a window without samples says where the nearest are', () => {
  const values = Float64Array.of(1, 2, Number.NaN, Number.NaN, 5, 6);
  const none = values.map(() => Number.NaN);
  const answer = {
    fromS: 0,
    toS: 60,
    pixels: 6,
    exact: true,
    missing: [],
    groups: [
      {
        tS: Float64Array.of(5, 15, 25, 35, 45, 55),
        columns: [
          { key: 'a', unit: 'm', stepS: 1, minimum: values, maximum: values },
          { key: 'b', unit: 'm', stepS: 1, minimum: none, maximum: none },
        ],
      },
    ],
  };
  const clock = { text: (tS: number) => `${tS} s` };
  const says = (fromS: number, toS: number, key = 'a'): string =>
    noSamplesText(samplesBeside([answer], [key], { fromS, toS }), clock);
  expect(says(22, 38)).toBe(
    'No samples in this window. The nearest: before about 15 s and after about 45 s.',
  );
  expect(says(56, 60)).toBe('No samples in this window. The last are at about 55 s.');
  expect(says(0, 4)).toBe('No samples in this window. The first are at about 5 s.');
  expect(says(22, 38, 'b')).toBe('No samples in this window.');
});
