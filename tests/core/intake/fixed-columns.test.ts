import { expect, test } from 'vitest';
import { detectDialect } from '@/lib/core/intake/dialect';
import { cellsOf, placeCells } from '@/lib/core/intake/fixed-columns';

const NONE = { separator: null, decimal: null, encoding: null };

function read(...lines: readonly string[]) {
  const { value, issues } = detectDialect(`${lines.join('\n')}\n`, NONE);
  const rows = value === null ? [] : lines.slice(value.rowsAfterLine).map((l) => cellsOf(l, value));
  return { value, rows, codes: issues.map(({ code }) => code), issues };
}

/** The answers are read off the lines by eye: each word stands under its name. */
test('empty cells of a table at fixed places stay empty', () => {
  const { value, rows, codes } = read(
    'time      x       y      mode',
    '0.0     250.1   -0.31       1',
    '0.2     250.0               1',
    '0.4             -0.29       1',
    '0.6     249.8   -0.30        ',
  );
  expect(value?.columns).toEqual(['time', 'x', 'y', 'mode']);
  expect(rows).toEqual([
    ['0.0', '250.1', '-0.31', '1'],
    ['0.2', '250.0', '', '1'],
    ['0.4', '', '-0.29', '1'],
    ['0.6', '249.8', '-0.30', ''],
  ]);
  expect(codes).toEqual(['columns-by-place']);
});

test('names with spaces, a row of units and a rule stand over their columns', () => {
  const { value, rows } = read(
    'Elapsed   Range     Range rate',
    '(s)       (m)       (m/s)',
    '-------   ------    ----------',
    '  10.0    250,12        -0,10',
    '  20.0    249,00        -0,11',
    '  30.0                  -0,12',
  );
  expect(value).toMatchObject({
    columns: ['Elapsed', 'Range', 'Range rate'],
    units: ['s', 'm', 'm/s'],
    rowsAfterLine: 3,
  });
  expect(rows.at(-1)).toEqual(['30.0', '', '-0,12']);
});

test('a column that is empty in all rows is one, and names beside their numbers are in order', () => {
  const { value, rows } = read(
    't        spare     x',
    '0.0              1.0',
    '0.1              1.1',
    '0.2              1.2',
  );
  expect(value?.columns).toEqual(['t', 'spare', 'x']);
  expect(rows[0]).toEqual(['0.0', '', '1.0']);
  const apart = read(
    't   x       y',
    '0.0   1.0     2.0',
    '0.1           2.1',
    '0.2   1.2     2.2',
  );
  expect(apart.value?.columns).toEqual(['t', 'x', 'y']);
  expect(apart.rows[1]).toEqual(['0.1', '', '2.1']);
});

test('a row shorter than those of the head is read by its places', () => {
  const { value } = read('t     x     y', '0.0   1.0   2.0', '0.1   1.1   2.1', '0.2   1.2   2.2');
  expect(value).not.toBeNull();
  if (value === null) return;
  expect(cellsOf('0.3         2.3', value)).toEqual(['0.3', '', '2.3']);
  expect(cellsOf('0.4 1.4 2.4', value)).toEqual(['0.4', '1.4', '2.4']);
});

test('words that reach over two columns, or two in one, have no place', () => {
  const fields = [
    [0, 3],
    [6, 9],
  ] as const;
  expect(placeCells('1.0 22.5', fields)).toEqual(['1.0', '22.5']);
  expect(placeCells('1.0222.5', fields)).toBeNull();
  expect(placeCells('1 2', fields)).toBeNull();
});

test('ragged words of which one is missing are refused, and this is explained', () => {
  const { value, issues } = read(
    'time x y mode',
    '0.0 1 1',
    '10.25 2 1',
    '0.2 1.125 1',
    '100.5 3 1',
  );
  expect(value).toBeNull();
  expect(issues).toMatchObject([{ code: 'places-not-clear', severity: 'error' }]);
  expect(issues[0]?.message).toContain('an empty cell leaves open which one it is');
});
