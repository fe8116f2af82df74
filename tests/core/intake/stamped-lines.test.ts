import { expect, test } from 'vitest';
import { readStampedLines } from '@/lib/core/intake/formats/stamped-lines';
import { parseInstant } from '@/lib/core/time/parse';
import type { TimeSpec } from '@/lib/core/time/time-code';

const ZERO = parseInstant('2026-03-02T10:00:00Z', 'UTC') ?? { taiNs: 0n };

function read(lines: readonly string[], code: TimeSpec['code'] = 'elapsed-dhms') {
  const time: TimeSpec = { columns: [], code, scale: 'UTC', from: ZERO };
  return readStampedLines({ text: lines.join('\n'), fileName: 'loop.txt', time, zero: ZERO });
}

/** `12 CREW: words` for each entry. */
function entriesOf(lines: readonly string[], code: TimeSpec['code'] = 'elapsed-dhms') {
  return read(lines, code).value?.entries.map(
    ({ sourceS, speaker, text }) => `${sourceS} ${speaker ?? '-'}: ${text ?? ''}`,
  );
}

// By hand: 3 x 86400 + 7 x 3600 + 45 x 60 + 12 = 287112.
test.each([
  ['[003:07:45:12] CREW: Range 200 metres.', 287_112],
  ['003:07:45:12.5 CREW: Range 200 metres.', 287_112.5],
  ['67:45:12 CREW: Range 200 metres.', 243_912],
  ['-00:00:10 CREW: Range 200 metres.', -10],
  ['−00:00:10 CREW: Range 200 metres.', -10],
  ['MET 003:07:45:12 CREW: Range 200 metres.', 287_112],
  ['T-00:01:30 CREW: Range 200 metres.', -90],
  ['T+00:01:30 CREW: Range 200 metres.', 90],
  ['03 07 45 12 CREW: Range 200 metres.', 287_112],
  ['003 07 45 12\tCREW\tRange 200 metres.', 287_112],
  ['(00:00:05) CREW - Range 200 metres.', 5],
  ['00:00:05  CREW  Range 200 metres.', 5],
])('%j is at %d s', (line, sourceS) => {
  expect(read([line]).value?.entries).toEqual([
    expect.objectContaining({ sourceS, speaker: 'CREW', text: 'Range 200 metres.', line: 1 }),
  ]);
});

test.each([
  ['2026-03-02T10:00:07.5Z CREW: Go.', 'iso8601', 7.5],
  ['2026-03-02 10:00:07.5 CREW: Go.', 'iso8601', 7.5],
  ['2026-061T10:00:07Z CREW: Go.', 'ccsds-b', 7],
  ['1772445607 CREW: Go.', 'unix-seconds', 7],
] as const)('%j as %s is at %d s', (line, code, sourceS) => {
  expect(entriesOf([line], code)).toEqual([`${sourceS} CREW: Go.`]);
});

test('three numbers are hours, minutes, seconds, whatever number is said behind them', () => {
  expect(entriesOf(['00 12 05 CREW: Go.', '00 12 09 20 metres.'])).toEqual([
    '725 CREW: Go.',
    '729 -: 20 metres.',
  ]);
});

test('an utterance may take several lines, and start below its stamp', () => {
  expect(
    entriesOf(['[00:00:10]', 'CREW: Range', '45 metres and', 'closing.', '', '[00:00:20]', 'Go.']),
  ).toEqual(['10 CREW: Range 45 metres and closing.', '20 -: Go.']);
});

test('a second speaker under one stamp is an entry of its own', () => {
  expect(entriesOf(['[00:00:10]', 'CREW: Ready.', 'FLIGHT: Go.', '[00:00:20] CREW: On.'])).toEqual([
    '10 CREW: Ready.',
    '10 FLIGHT: Go.',
    '20 CREW: On.',
  ]);
});

test('a quantity before a colon is no speaker, a name is', () => {
  expect(entriesOf(['00:00:10 Range: 200 metres.', '00:00:12 Flight: Copy.'])).toEqual([
    '10 -: Range: 200 metres.',
    '12 Flight: Copy.',
  ]);
});

test('running heads and feet are nobody’s words', () => {
  expect(
    entriesOf([
      'Page 3 of 40',
      '00:00:10 CREW: Range 200',
      '_page : 54',
      'metres.',
      '- 54 -',
      'Tape 3/7',
      '00:00:12 FLIGHT: Page 12.',
    ]),
  ).toEqual(['10 CREW: Range 200 metres.', '12 FLIGHT: Page 12.']);
});

test('a stamp that goes back is reported with line and size, and entries come by time', () => {
  const { value, issues } = read(['00:00:10 A.', '00:00:14 B.', '00:00:11.5 C.']);
  expect(value?.entries.map(({ text }) => text)).toEqual(['A.', 'C.', 'B.']);
  expect(issues).toEqual([
    expect.objectContaining({ code: 'stamp-goes-back', line: 3, received: '-2.5 s' }),
  ]);
});

test('a stamp with nothing behind it, and words before any stamp, are refused with their lines', () => {
  const { value, issues } = read(['Loop A', '00:00:10', '00:00:12 Go.']);
  expect(value).toMatchObject({ rowsRead: 3, rowsRejected: 2 });
  expect(issues.map(({ code, line }) => [code, line])).toEqual([
    ['stamp-not-readable', 1],
    ['entry-empty', 2],
  ]);
});

test('a number that was said is no stamp where stamps are plain numbers', () => {
  const lines = [
    '12.5 CREW: Range',
    '200 metres, closing',
    '20 Flight: Copy,',
    '150 and closing.',
    '# changed reels',
    '31.0 CREW: Mark.',
    '4',
    '40 CREW: Hold at',
    '30. Go for final.',
  ];
  expect(entriesOf(lines, 'elapsed-seconds')).toEqual([
    '12.5 CREW: Range 200 metres, closing',
    '20 Flight: Copy, 150 and closing.',
    '31 CREW: Mark. 4',
    '40 CREW: Hold at 30. Go for final.',
  ]);
  expect(read(lines, 'elapsed-seconds').issues).toMatchObject([{ code: 'numbers-said', line: 2 }]);
});

test('plain numbers are stamps in any case of letters, and those in brackets win', () => {
  expect(entriesOf(['12 go.', '14 copy.', '16 closing.'], 'elapsed-seconds')).toEqual([
    '12 -: go.',
    '14 -: copy.',
    '16 -: closing.',
  ]);
  expect(entriesOf(['[12] Range', '200', '[14.5] Go.'], 'elapsed-seconds')).toEqual([
    '12 -: Range 200',
    '14.5 -: Go.',
  ]);
});
