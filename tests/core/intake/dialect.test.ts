import { expect, test } from 'vitest';
import { detectDialect } from '@/lib/core/intake/dialect';
import { seededRandom } from '../../support/seeded-random';

const ANY = { separator: null, decimal: null, encoding: null };

test.each([
  ['comma', 't,x,y\n0.0,1.5,2\n0.2,1.6,3\n', ',', '.', 1, ['t', 'x', 'y']],
  [
    'semicolon with decimal comma',
    't;x;y\n0,0;1,5;2,0\n0,2;1,6;3,0\n',
    ';',
    ',',
    1,
    ['t', 'x', 'y'],
  ],
  ['tab with decimal comma', 't\tx\n0,0\t1,5\n0,2\t1,6\n', '\t', ',', 1, ['t', 'x']],
  ['pipe', 't|x\n1|2\n3|4\n', '|', '.', 1, ['t', 'x']],
  ['byte order mark and CRLF', '\uFEFFt,x\r\n1,2\r\n3,4\r\n', ',', '.', 1, ['t', 'x']],
  ['quoted names', '"t","x, m"\n1,2\n3,4\n', ',', '.', 1, ['t', 'x, m']],
  ['quoted decimal commas', 't,x\n"1,5","2,5"\n"1,6","2,6"\n', ',', ',', 1, ['t', 'x']],
  [
    'comments and a preamble',
    '# made by sensor 3\n# a,b,c,d\nSensor report\n\nt,x\n1,2\n3,4\n',
    ',',
    '.',
    5,
    ['t', 'x'],
  ],
  [
    'a header written as a comment',
    '# made by sensor 3\n# t,x\n1,2\n3,4\n',
    ',',
    '.',
    2,
    ['t', 'x'],
  ],
  ['text cells with commas', 't;note\n1;a, b, c\n2;d, e, f\n', ';', '.', 1, ['t', 'note']],
  ['a last line cut off', 't,x,y\n1,2,3\n4,5,6\n7,8', ',', '.', 1, ['t', 'x', 'y']],
  [
    'stamps with colons',
    'utc,x\n2031-04-17T09:12:30.000Z,1\n2031-04-17T09:12:30.200Z,2\n',
    ',',
    '.',
    1,
    ['utc', 'x'],
  ],
  ['a header alone', 't,x\n', ',', '.', 1, ['t', 'x']],
])('%s', (_, text, separator, decimal, headerLine, columns) => {
  const { value, issues } = detectDialect(text, ANY);
  expect(issues).toEqual([]);
  expect(value).toEqual({
    separator,
    decimal,
    quote: '"',
    headerLine,
    rowsAfterLine: headerLine,
    columns,
    repeated: [],
    units: null,
    leastCells: columns.length,
  });
});

test.each([
  ['1,2,3\n4,5,6\n', 'header-missing'],
  ['just words\nand more\n', 'no-table'],
  ['', 'file-empty'],
  ['\n \n', 'file-empty'],
  ['PK\u0003\u0004junk', 'not-text'],
  ['PAR1\u0015junk', 'not-text'],
  ['a,b\n\u0000,1\n', 'not-text'],
])('%j is refused: %s', (text, code) => {
  const { value, issues } = detectDialect(text, ANY);
  expect(value).toBeNull();
  expect(issues.map((issue) => issue.code)).toEqual([code]);
});

test('columns that share a name are told apart by their place, with a warning', () => {
  const { value, issues } = detectDialect('t,x,y,x\n1,2,3,4\n', ANY);
  expect(value).toMatchObject({
    columns: ['t', 'x (column 2)', 'y', 'x (column 4)'],
    repeated: ['x'],
  });
  expect(issues.map(({ code, severity }) => [code, severity])).toEqual([
    ['header-duplicate', 'warning'],
  ]);
});

test.each([
  ['t,x,y\ns,m,m/s\n0,1,2\n', ['s', 'm', 'm/s'], 2],
  ['t,x,n\n[s],[m],[1]\n0,1,2\n', ['s', 'm', '1'], 2],
  ['utc;x;y\nUTC;ft;\n2031-04-17T09:00:00;1,5;2\n', ['UTC', 'ft', null], 2],
  ['t,x\n0,1\n', null, 1],
  ['t,mode\nm,s\n', ['m', 's'], 2],
])('a row of units in %j is %j', (text, units, rowsAfterLine) => {
  expect(detectDialect(text, ANY).value).toMatchObject({ units, rowsAfterLine });
});

test('runs of spaces separate where no other separator does', () => {
  const { value } = detectDialect('# logger 7\n  t     x\n  0.0  12.5\n 10.0   7.25\n', ANY);
  expect(value).toMatchObject({ separator: ' ', columns: ['t', 'x'], headerLine: 2 });
  expect(detectDialect('some words here\nand more words\n', ANY).value).toBeNull();
});

test('rows that leave out cells at their end, or end in a separator, keep their header', () => {
  const short = detectDialect('t,x,note\n0,1\n1,2\n2,3,late\n3,4\n', ANY);
  expect(short.value).toMatchObject({ columns: ['t', 'x', 'note'], leastCells: 2 });
  expect(short.issues.map((issue) => issue.code)).toEqual(['rows-short']);
  const trailing = detectDialect('t,x\n0,1,\n1,2,\n', ANY);
  expect(trailing.value?.columns).toEqual(['t', 'x', 'column 3']);
});

test('a column without a name gets one, with a warning', () => {
  const { value, issues } = detectDialect('t,x,\n1,2,\n3,4,\n', ANY);
  expect(value?.columns).toEqual(['t', 'x', 'column 3']);
  expect(issues.map((issue) => [issue.code, issue.severity])).toEqual([
    ['header-empty', 'warning'],
  ]);
});

test('what the session file states wins over what is found', () => {
  const text = 't;x\n1,5;2,5\n';
  expect(detectDialect(text, { ...ANY, separator: ';', decimal: '.' }).value?.decimal).toBe('.');
  expect(detectDialect('t x\n1 2\n3 4\n', { ...ANY, separator: ' ' }).value?.columns).toEqual([
    't',
    'x',
  ]);
  expect(detectDialect('t,x\n1,2\n', { ...ANY, separator: ';' }).issues[0]?.code).toBe('no-table');
});

test('tables of numbers in any dialect are found (seeded)', () => {
  const random = seededRandom(77);
  for (let round = 0; round < 200; round += 1) {
    const separator = [',', ';', '\t', '|'][round % 4] ?? ',';
    const decimal = separator !== ',' && round % 8 >= 4 ? ',' : '.';
    const width = 2 + Math.floor(random() * 30);
    const columns = Array.from({ length: width }, (_, index) => `c${index}`);
    const rows = Array.from({ length: 20 }, () =>
      columns
        .map(() => (random() < 0.1 ? '' : (random() * 100 - 50).toFixed(3).replace('.', decimal)))
        .join(separator),
    );
    const end = round % 3 === 0 ? '\r\n' : '\n';
    const text = [columns.join(separator), ...rows, ''].join(end);
    expect(detectDialect(text, ANY).value).toEqual({
      separator,
      decimal,
      quote: '"',
      headerLine: 1,
      rowsAfterLine: 1,
      columns,
      repeated: [],
      units: null,
      leastCells: width,
    });
  }
});

test('a header cell may hold line ends, and names may stand under names of groups', () => {
  const broken = 't,"range\n(m)",x\n0,1,2\n1,2,3\n';
  expect(detectDialect(broken, ANY).value).toMatchObject({
    columns: ['t', 'range (m)', 'x'],
    headerLine: 2,
  });
  const grouped = ',state,,attitude\nt,x,vx,roll\n0,1,2,3\n1,1,2,3\n';
  expect(detectDialect(grouped, ANY).value).toMatchObject({
    columns: ['t', 'x', 'vx', 'roll'],
    headerLine: 2,
  });
  const units = 't,,vx\ns,m,m/s\n0,1,2\n1,1,2\n';
  expect(detectDialect(units, ANY).value).toMatchObject({ headerLine: 1, rowsAfterLine: 2 });
});
