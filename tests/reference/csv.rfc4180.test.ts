/** Source: RFC 4180 section 2, rules 1 to 7; the records are the RFC's own examples. */
import { expect, test } from 'vitest';
import { readCsvRows } from '@/lib/core/intake/split-lines';
import { seededRandom } from '../support/seeded-random';

function cellsOf(text: string, separator = ','): readonly (readonly string[])[] {
  return [...readCsvRows(text, separator)].map((row) => row.cells);
}

test('records end in CRLF, the last may lack it', () => {
  const expected = [
    ['aaa', 'bbb', 'ccc'],
    ['zzz', 'yyy', 'xxx'],
  ];
  expect(cellsOf('aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n')).toEqual(expected);
  expect(cellsOf('aaa,bbb,ccc\r\nzzz,yyy,xxx')).toEqual(expected);
});

test('a quoted cell holds line breaks, commas and doubled quotes', () => {
  expect(cellsOf('"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx')).toEqual([
    ['aaa', 'b\r\nbb', 'ccc'],
    ['zzz', 'yyy', 'xxx'],
  ]);
  expect(cellsOf('"aaa","b""bb","ccc"')).toEqual([['aaa', 'b"bb', 'ccc']]);
  expect(cellsOf('"a,b",c')).toEqual([['a,b', 'c']]);
});

test('spaces belong to the cell, an empty last cell counts', () => {
  expect(cellsOf(' a , b ,')).toEqual([[' a ', ' b ', '']]);
});

test('a record knows the line on which it starts, a quote left open is marked', () => {
  const rows = [...readCsvRows('a,b\n"x\ny",1\nz,"2\n', ',')];
  expect(rows.map(({ line, isOpen }) => [line, isOpen])).toEqual([
    [1, false],
    [2, false],
    [4, true],
  ]);
});

test('what is written by the rules is read back (seeded)', () => {
  const random = seededRandom(4180);
  const alphabet = ['a', ' ', ',', ';', '"', '\n', '\r\n', '\t', 'é', '7'];
  for (let round = 0; round < 300; round += 1) {
    const rows = Array.from({ length: 1 + Math.floor(random() * 4) }, () =>
      Array.from({ length: 3 }, () =>
        Array.from(
          { length: Math.floor(random() * 5) },
          () => alphabet[Math.floor(random() * alphabet.length)],
        ).join(''),
      ),
    );
    for (const separator of [',', ';', '\t', '|']) {
      const text = rows
        .map((row) => row.map((cell) => `"${cell.replaceAll('"', '""')}"`).join(separator))
        .join('\r\n');
      expect(cellsOf(text, separator)).toEqual(rows);
    }
  }
});
