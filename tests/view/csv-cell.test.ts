import { expect, test } from 'vitest';
import { csvTextCell } from '@/lib/view/csv-cell';
import { stretchCsv } from '@/lib/view/timeline-table';

test.each(["=cmd|' /C calc'!A0", '+1+1', '-2+3', '@SUM(A1)', '\t=1', '\r=1', ' =1', '\uFF1D1'])(
  'the text %j is no formula any more',
  (text) => {
    expect(csvTextCell(text)).toMatch(/^"?'/);
    expect(csvTextCell(text)).toContain(text.replaceAll('"', '""'));
  },
);

test('other text stays as it is, quoted where it must be', () => {
  expect(csvTextCell('closing_rate [m/s]')).toBe('closing_rate [m/s]');
  expect(csvTextCell('a,"b"')).toBe('"a,""b"""');
  expect(csvTextCell('=HYPERLINK("x","y")')).toBe(`"'=HYPERLINK(""x"",""y"")"`);
});

test('a file of a stretch has no formula in its head, and its negative numbers stay numbers', () => {
  const tS = Float64Array.of(-1, 0);
  const values = Float64Array.of(-0.25, Number.NaN);
  expect([...stretchCsv([{ key: '=1+1', unit: 'm', tS, values }])]).toEqual([
    `session_time_s,'=1+1 [m]`,
    '-1,-0.25',
    '0,',
  ]);
});
