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
  ['00:00:05 [CREW] Range 200 metres.', 5],
  ['00:00:05Z CREW: Range 200 metres.', 5],
  ['00:00:05 UTC [CREW] Range 200 metres.', 5],
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

/** Readings as a person takes them from the page; invented words. */
test.each([
  ['with a dash set close', '03:45:12  CDR- 150 feet.', 'CDR', '150 feet.'],
  [
    'with a place in brackets',
    '03:45:12  Jones (onboard): 140 feet.',
    'Jones (onboard)',
    '140 feet.',
  ],
  ['in brackets', '03:45:12 (CDR) 150 feet', 'CDR', '150 feet'],
  ['before the stamp', 'CDR 00:03:45:12 150 feet', 'CDR', '150 feet'],
  ['between commas', '000:03:45:12,CDR,150 feet', 'CDR', '150 feet'],
])('a speaker %s is told from the words', (_where, line, speaker, text) => {
  const { value } = read([line]);
  expect(value?.entries).toMatchObject([{ sourceS: 13_512, speaker, text }]);
});

test('what the typist wrote in brackets is no speaker', () => {
  const { value } = read(['03:45:12 (GARBLED) 150 feet']);
  expect(value?.entries).toMatchObject([{ speaker: null, text: '(GARBLED) 150 feet' }]);
});

test('names without a mark are speakers where nearly every line begins with one of a few', () => {
  const lines = [
    'C Reading you.',
    'S Go ahead.',
    'C 150 feet.',
    'S Copy 150.',
    'C 140 feet.',
    'S Go.',
  ];
  const stamped = lines.map((said, at) => `02:05:33:1${at} ${said}`);
  expect(
    read(stamped)
      .value?.entries.map(({ speaker }) => speaker)
      .join(''),
  ).toBe('CSCSCS');
  expect(read(stamped.slice(0, 2)).value?.entries[0]?.speaker).toBeNull();
});

test('a garbled stamp costs its own line, and running heads are no words', () => {
  const lines = [
    '(NET 1)                    Tape 3/2',
    '                           Page 12',
    '00 03 45 12   CDR   150 feet',
    '                    and closing.',
    '00 03 47 3?   CC    Say again?',
    '00 03 -- --   CC    Hello?',
    'Day 1                      Page 13',
    '00 03 47 50   CDR   140 feet',
    'END OF TAPE',
  ];
  const { value, issues } = read(lines);
  expect(value?.entries.map(({ sourceS, text: said }) => [sourceS, said])).toEqual([
    [13_512, '150 feet and closing.'],
    [13_670, '140 feet'],
  ]);
  expect(issues.map(({ code, line }) => [code, line])).toEqual([
    ['stamp-not-readable', 5],
    ['stamp-not-readable', 6],
  ]);
});

test('long lines of marks, names and heads that never end are read in bounded time', () => {
  const lines = ['00 '.repeat(50_000), '-'.repeat(200_000), `(${'A NET '.repeat(50_000)}`];
  const { value } = read(['00:00:01 A: x', ...lines]);
  // The first of them begins with a stamp, 00 00 00 00.
  expect(value?.entries).toHaveLength(2);
}, 5_000);

// A crew member with the vehicle's name, as in transcripts of early crewed flights: common practice, no source.
test('a speaker may be followed by the name of the vehicle', () => {
  expect(entriesOf(['03 04 33 40 CDR (HERON)  Contact light.'])).toEqual([
    '275620 CDR (HERON): Contact light.',
  ]);
});

test('two numbers before a name are no words of the entry above, and no time', () => {
  const { value, issues } = read(['00:03:14 CDR: At three.', '3:15 PLT: Copy.']);
  expect(value?.entries).toMatchObject([{ text: 'At three.' }]);
  expect(issues).toMatchObject([{ code: 'stamp-not-readable', line: 2 }]);
});

test('times of day under a code of dates are refused with what to state instead', () => {
  const { value, issues } = read(['10:00:05 CDR: Go.', '10:00:09 CDR: Go.'], 'iso8601');
  expect(value).toBeNull();
  expect(issues[0]).toMatchObject({ code: 'nothing-readable', line: 1 });
  expect(issues[0]?.message).toMatch(/The first: "10:00:05 CDR: Go\." .* as elapsed-dhms/);
});

// Name on the stamp's line, words below, a letter O for a zero: as in typed transcripts of early crewed
// flights; common practice, no source.
test('names alone behind the stamps speak the lines below', () => {
  const said = ['CDR', 'CC', 'CDR', 'CC', 'CDR', 'CDR'].flatMap((name, at) => [
    `00 00 08 1${at} ${name}`,
    `Words of ${at}.`,
    '',
  ]);
  expect(entriesOf(said)?.slice(0, 2)).toEqual(['490 CDR: Words of 0.', '491 CC: Words of 1.']);
  expect(entriesOf(said)).toHaveLength(6);
});

test('lines under a stamp that cannot be read are not put to the entry above', () => {
  const { value, issues } = read([
    '00 00 08 10 CDR: One.',
    '00 O0 08 19 CC: Two,',
    'and more of two.',
    '00 00 08 30 CDR: Three.',
  ]);
  expect(value?.entries.map(({ text }) => text)).toEqual(['One.', 'Three.']);
  expect(issues).toMatchObject([{ code: 'stamp-not-readable', line: 2 }]);
});
