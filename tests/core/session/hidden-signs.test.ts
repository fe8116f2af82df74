import { expect, test } from 'vitest';
import { detectDialect } from '@/lib/core/intake/dialect';
import { dataWithoutHiddenSigns } from '@/lib/core/session/hidden-signs';
import { readPeopleFile } from '@/lib/core/session/read-people-file';
import { readSessionFile } from '@/lib/core/session/read-session-file';
import { writePeopleFile } from '@/lib/core/session/write-people-file';

const session = (title: string, column: string): string => `title: ${title}
kind: flight
zero: 2026-03-02T10:00:00Z
sources:
  - file: nav.csv
    type: telemetry
    time: { column: t, code: elapsed-seconds }
    channels:
      ${column}: { as: range, unit: m }
`;

test.each([
  ['"A\\0B"', 'U+0000'],
  ['"A\\e[31mB"', 'U+001B'],
  ['A\u202egnp.B', 'U+202E'],
  ['A\u2066B', 'U+2066'],
  ['"A\\ud800B"', 'U+D800'],
  ['A\u0085B', 'U+0085'],
])('a title %j is refused with key path, line and sign', (title, sign) => {
  const { value, issues } = readSessionFile(session(title, 'range'), 'session.yaml');
  expect(value).toBeNull();
  expect(issues).toMatchObject([
    { code: 'sign-not-allowed', severity: 'error', keyPath: 'title', line: 1, received: sign },
  ]);
});

test('a key is refused like a text; marks of order, tabs and line ends are let be', () => {
  const { issues } = readSessionFile(session('A', 'ran\u202dge'), 'session.yaml');
  expect(issues.map(({ code, line }) => [code, line])).toEqual([['sign-not-allowed', 9]]);
  const plain = session('"\u05d0\u200f (A)\\tB\\nC"', 'range');
  expect(readSessionFile(plain, 'session.yaml').issues).toEqual([]);
});

test('a header and what people write are read without such signs', () => {
  const { value, issues } = detectDialect('t,ran\u202ege\n0,1\n1,2\n', {
    separator: null,
    decimal: null,
    encoding: null,
  });
  expect(value?.columns).toEqual(['t', 'range']);
  expect(issues).toMatchObject([{ code: 'header-signs', severity: 'warning', line: 1 }]);
  const input = { title: 'A\u202eB', list: ['\u0000', 3, null], at: new Date(0) };
  expect(dataWithoutHiddenSigns(input)).toEqual({
    title: 'AB',
    list: ['', 3, null],
    at: new Date(0),
  });
  const people = {
    clockCorrections: [
      {
        kind: 'tie-point',
        source: 'a.vtt',
        sourceS: 1,
        sessionS: 2,
        sdS: 0.2,
        by: null,
        reason: 'x\u202ey',
      },
    ],
    stretchCorrections: [],
  } as const;
  const read = readPeopleFile(writePeopleFile(people), 'people.yaml');
  expect(read.issues).toEqual([]);
  expect(read.value?.clockCorrections).toMatchObject([{ reason: 'xy' }]);
});
