import { expect, test } from 'vitest';
import { nearContactNote } from '@/lib/view/strip-words';
import { differencesView } from '@/lib/view/timeline-differences';

const tS = Float64Array.from({ length: 11 }, (_, index) => index * 10);
const column = {
  key: 'telemetry.csv:roll_err',
  unit: 'rad',
  tS,
  values: tS.map((t) => (t * Math.PI) / 1800),
  sources: [{ file: 'telemetry.csv', sha256: 'abcdef0123456789' }],
  rows: 'estimated' as const,
};

test('two cursors are told in the units of the screen, as figures, text and CSV alike', () => {
  const view = differencesView('s', [column], { fromS: 10, toS: 60 });
  const [row] = view.rows;
  expect(row?.label).toBe('roll_err (telemetry.csv)');
  expect(row?.figures.map((figure) => figure.text.replaceAll('\u00a0', ' '))).toEqual([
    '1.00 deg',
    '6.00 deg',
    '5.00 deg',
    '3.50 deg',
    // Trapezoids of the squares 1, 4, 9, 16, 25, 36: root of 72.5 over 5.
    '3.81 deg',
    '0.100 deg/s',
  ]);
  expect(row?.figures[2]?.sources[0]?.file).toBe('telemetry.csv');
  expect(view.text.split('\n')[0]?.replaceAll('\u2063', '')).toBe('10 to 60, 50.00 s');
  expect(view.text).toContain('difference 5.00 deg; mean over time 3.50 deg');
  const lines = view.csv.split('\r\n').map((line) => line.split(','));
  expect(lines.map((line) => line[1])).toEqual([
    'figure',
    'start',
    'end',
    'difference',
    'mean',
    'rms',
    'slope',
  ]);
  expect(Number(lines[3]?.[2])).toBeCloseTo(5, 12);
  expect(lines[3]?.[4]).toBe('deg');
  expect(lines.every((line) => line.length === 7)).toBe(true);
});

test('the rate of the range is explained where a stretch reaches the last minute before contact', () => {
  const about = (fromS: number, toS: number) =>
    nearContactNote('closing_rate', { fromS, toS }, 1000);
  expect(about(0, 900)).toBeNull();
  expect(about(0, 950)).toMatch(/along the axis/);
  expect(about(1100, 1200)).toBeNull();
  expect(nearContactNote('range', { fromS: 0, toS: 1000 }, 1000)).toBeNull();
  expect(nearContactNote('closing_rate', { fromS: 0, toS: 1000 }, null)).toBeNull();
});
