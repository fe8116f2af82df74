import { expect, test } from 'vitest';
import { readEventLog } from '@/lib/core/intake/event-log';
import { type EventReader, makeLogBuilder } from '@/lib/core/intake/event-reader';
import { EVENT_READERS } from '@/lib/core/intake/formats/registry';
import type { Instant } from '@/lib/core/time/instant';
import { parseInstant } from '@/lib/core/time/parse';
import type { TimeCode, TimeSpec } from '@/lib/core/time/time-code';

const readLog = (
  text: string,
  fileName: string,
  time: TimeSpec | null,
  zero: Instant,
  readers = EVENT_READERS,
) => readEventLog({ text, fileName, time, zero }, readers);

const zero = parseInstant('2031-04-17T09:12:30Z', 'UTC') ?? { taiNs: 0n };
const time = (code: TimeCode, ...columns: string[]): TimeSpec => ({
  columns,
  code,
  scale: 'UTC',
  from: zero,
});

test('events with quotes, a comma and a doubled quote', () => {
  const text =
    'utc,event,text\r\n2031-04-17T09:12:40.5Z,poll,"CREW: ""Go"", we are ready."\r\n2031-04-17T09:12:35Z,,plain\r\n';
  const { value, issues } = readLog(text, 'events.csv', time('iso8601', 'utc'), zero);
  expect(issues).toEqual([]);
  expect(value).toEqual({
    rowsRead: 2,
    rowsRejected: 0,
    entries: [
      { sourceS: 5, sourceEndS: null, event: null, text: 'plain', speaker: null, line: 3 },
      {
        sourceS: 10.5,
        sourceEndS: null,
        event: 'poll',
        text: 'CREW: "Go", we are ready.',
        speaker: null,
        line: 2,
      },
    ],
  });
});

test('each bad row is one warning with its line, and reading goes on', () => {
  const text = 't,event\n1,a\nx,b\n\n2,c,d\n3,\n4,"e\n5,f\n';
  const { value, issues } = readLog(text, 'e.csv', time('elapsed-seconds', 't'), zero);
  expect(value?.entries.map((entry) => entry.event)).toEqual(['a']);
  expect(value).toMatchObject({ rowsRead: 5, rowsRejected: 4 });
  expect(issues.map(({ code, line, severity }) => [code, line, severity])).toEqual([
    ['stamp-not-readable', 3, 'warning'],
    ['cells-count', 5, 'warning'],
    ['entry-empty', 6, 'warning'],
    ['quote-open', 7, 'warning'],
  ]);
});

test.each([
  ['a,event\n1,x\n', 'column-missing'],
  ['t,what\n1,x\n', 'column-missing'],
  ['t,event\nx,y\n', 'nothing-readable'],
  ['t,event,event\n1,y,z\n', 'column-ambiguous'],
])('a log %j is refused: %s', (text, code) => {
  const { value, issues } = readLog(text, 'e.csv', time('elapsed-seconds', 't'), zero);
  expect(value).toBeNull();
  expect(issues[0]).toMatchObject({ code, severity: 'error', file: 'e.csv' });
});

test('a log without a stated time is refused, captions are not', () => {
  expect(readLog('t,event\n1,x\n', 'e.csv', null, zero).issues[0]?.code).toBe('key-missing');
  expect(
    readLog('WEBVTT\n\n00:01.000 --> 00:02.000\nx', 'e.vtt', null, zero).value?.entries,
  ).toHaveLength(1);
});

test('a caption file counts from another instant where one is stated', () => {
  const from = parseInstant('2031-04-17T09:13:30Z', 'UTC') ?? zero;
  const { value } = readLog(
    'WEBVTT\n\n00:01.000 --> 00:02.000\nx',
    'e.vtt',
    { ...time('elapsed-seconds'), from },
    zero,
  );
  expect(value?.entries[0]).toMatchObject({ sourceS: 61, sourceEndS: 62 });
});

// Programs that shift captions write a minus: common practice, no source.
test('SubRip before zero is before zero', () => {
  const text = '1\n-00:00:10,500 --> -00:00:08,000\nTen.\n';
  expect(readLog(text, 'loop.srt', null, zero).value?.entries).toMatchObject([
    { sourceS: -10.5, sourceEndS: -8 },
  ]);
});

test('SubRip with comma or point, with or without counters', () => {
  const text =
    '1\r\n00:00:12,000 --> 00:00:15,123\r\n<i>Range</i> 20\r\nmetres.\r\n\r\n00:01:00.500 --> 00:01:02.000\r\nTwo\r\n3\r\n00:61:00,000 --> 00:62:00,000\r\nbad\r\n';
  const { value, issues } = readLog(text, 'loop.srt', null, zero);
  expect(
    value?.entries.map(({ sourceS, sourceEndS, text: said }) => [sourceS, sourceEndS, said]),
  ).toEqual([
    [12, 15.123, 'Range 20 metres.'],
    [60.5, 62, 'Two'],
  ]);
  expect(value).toMatchObject({ rowsRead: 3, rowsRejected: 1 });
  expect(issues.map((issue) => [issue.code, issue.line])).toEqual([['cue-timing', 9]]);
});

test('JSON Lines keep the digits of a long stamp', () => {
  const text =
    '{"t":1926234750123456789,"event":"a"}\n{"t":"x","event":"b"}\n[1]\n{bad\n{"event":"c","t":1926234751123456789,"text":"d\u2028e"}\n';
  const { value, issues } = readLog(
    text,
    'log.jsonl',
    { ...time('unix-nanoseconds', 't'), scale: 'TAI' },
    { taiNs: 1_926_234_750_000_000_000n },
  );
  expect(value?.entries.map(({ sourceS, event, text: said }) => [sourceS, event, said])).toEqual([
    [0.123_456_789, 'a', null],
    [1.123_456_789, 'c', 'd\u2028e'],
  ]);
  expect(issues.map((issue) => [issue.code, issue.line])).toEqual([
    ['stamp-not-readable', 2],
    ['json-not-readable', 3],
    ['json-not-readable', 4],
  ]);
});

test('stamped lines: brackets, speakers, a stamp above what was said', () => {
  const text =
    'Loop A\n[000:00:00:05] CREW: Range 200 metres.\n000:00:01:00.5 plain words\n[000:00:02:00]\nFLIGHT: One.\nTwo.\n';
  const { value, issues } = readLog(text, 'loop.txt', time('elapsed-dhms'), zero);
  expect(
    value?.entries.map(({ sourceS, speaker, text: said }) => [sourceS, speaker, said]),
  ).toEqual([
    [5, 'CREW', 'Range 200 metres.'],
    [60.5, null, 'plain words'],
    [120, 'FLIGHT', 'One. Two.'],
  ]);
  expect(issues.map((issue) => [issue.code, issue.line])).toEqual([['stamp-not-readable', 1]]);
});

test('a stamp of two words is read', () => {
  const { value } = readLog('2031-04-17 09:12:31 CREW: Go.\n', 'a.log', time('iso8601'), zero);
  expect(value?.entries[0]).toMatchObject({ sourceS: 1, speaker: 'CREW', text: 'Go.' });
});

test('the signature decides before the name, an unknown name is refused with the known ones', () => {
  expect(
    readLog('WEBVTT\n\n00:01.000 --> 00:02.000\nx', 'loop.txt', null, zero).value?.entries[0]
      ?.sourceEndS,
  ).toBe(2);
  expect(readLog('junk', 'loop.mp4', null, zero).issues[0]?.message).toContain('vtt, srt, jsonl');
  expect(readLog('\u0000\u0001', 'loop.vtt', null, zero).issues[0]?.code).toBe('format-unknown');
});

test.each([
  ['nothing', '', 'e.csv'],
  ['a header alone', 'utc,event\n', 'e.csv'],
  ['a head of captions alone', 'WEBVTT\n\n', 'e.vtt'],
])('a log of %s has no entries and says so', (_, text, name) => {
  const { value, issues } = readLog(text, name, time('iso8601', 'utc'), zero);
  expect(value?.entries).toEqual([]);
  expect(issues.map((issue) => [issue.code, issue.severity])).toEqual([['file-empty', 'warning']]);
});

test('a reader from outside joins the registry as a value', () => {
  const toy: EventReader = {
    format: 'beads',
    endings: ['beads'],
    hasSignature: (text) => text.startsWith('BEADS'),
    read: ({ text, fileName }) => {
      const builder = makeLogBuilder(fileName);
      const beads = text.split('\n').slice(1);
      beads.forEach((event, index) => {
        builder.accept({
          sourceS: index,
          sourceEndS: null,
          event,
          text: null,
          speaker: null,
          line: index + 2,
        });
      });
      return builder.finish(beads.length);
    },
  };
  const readers = [...EVENT_READERS, toy];
  expect(
    readLog('BEADS\nred\nblue', 'a.txt', null, zero, readers).value?.entries.map(
      (entry) => entry.event,
    ),
  ).toEqual(['red', 'blue']);
  expect(readLog('BEADS\nred', 'a.beads', null, zero).issues[0]?.code).toBe('format-unknown');
});

test('a log in any order of rows gives the same entries by time', () => {
  const rows = ['3,c', '1,a', '2,b'];
  const read = (order: readonly string[]) =>
    readLog(
      ['t,event', ...order].join('\n'),
      'e.csv',
      time('elapsed-seconds', 't'),
      zero,
    ).value?.entries.map((entry) => entry.event);
  expect(read(rows)).toEqual(['a', 'b', 'c']);
  expect(read([...rows].reverse())).toEqual(['a', 'b', 'c']);
});

test('a caption without a voice span may name its speaker in capitals', () => {
  const text =
    'WEBVTT\n\n00:01.000 --> 00:02.000\nCREW: Range 90 metres.\n\n00:03.000 --> 00:04.000\nRANGE: 80 metres.\n';
  const { value } = readEventLog({ text, fileName: 'a.vtt', time: null, zero });
  expect(value?.entries.map(({ speaker, text: said }) => [speaker, said])).toEqual([
    ['CREW', 'Range 90 metres.'],
    [null, 'RANGE: 80 metres.'],
  ]);
});

test('remarks in an event table are no rows, a mark in a cell that reads is', () => {
  const text = 't,event\n# begun, by hand\n1,a\n# end of loop\n#2,b\n3,#c\n';
  const { value, issues } = readLog(text, 'e.csv', time('elapsed-seconds', 't'), zero);
  expect(issues).toEqual([]);
  expect(value).toMatchObject({ rowsRead: 2, rowsRejected: 0 });
  expect(value?.entries.map((entry) => entry.event)).toEqual(['a', '#c']);
});

test.each([
  ['loop.txt', '23:59:50 CREW: Go.\n00:00:05 CREW: Copy.\n', 2],
  ['e.csv', 't,event\n23:59:50,a\n00:00:05,b\n', 3],
])(
  'a clock that begins again at midnight counts on, and this is said of %s',
  (name, text, line) => {
    const { value, issues } = readLog(text, name, time('elapsed-dhms', 't'), zero);
    // 15 s from ten seconds before midnight to five after it.
    expect(value?.entries.map(({ sourceS }) => sourceS)).toEqual([86_390, 86_405]);
    expect(issues).toMatchObject([{ code: 'carried-over-midnight', severity: 'warning', line }]);
  },
);

test('seconds and milliseconds of the day of a log count on over midnight', () => {
  const s = readLog('t,event\n86390,a\n5,b\n', 'e.csv', time('elapsed-seconds', 't'), zero);
  expect(s.value?.entries.map(({ sourceS }) => sourceS)).toEqual([86_390, 86_405]);
  expect(s.issues).toMatchObject([{ code: 'counter-carried-on', severity: 'warning', line: 3 }]);
  const ms = readLog(
    't,event\n86390000,a\n5000,b\n',
    'e.csv',
    time('elapsed-milliseconds', 't'),
    zero,
  );
  expect(ms.value?.entries.map(({ sourceS }) => sourceS)).toEqual([86_390, 86_405]);
  const back = readLog('t,event\n40000,a\n5,b\n', 'e.csv', time('elapsed-seconds', 't'), zero);
  expect(back.value?.entries.map(({ sourceS }) => sourceS)).toEqual([5, 40_000]);
});

test('a day that is written is not carried, an unclear step is refused with its line', () => {
  const days = readLog(
    '1:23:00:00 A: x\n1:00:00:05 A: y\n',
    'a.txt',
    time('elapsed-dhms', 't'),
    zero,
  );
  expect(days.value?.entries.map(({ sourceS }) => sourceS)).toEqual([86_405, 169_200]);
  const open = readLog(
    't,event\n15:00:00,a\n04:00:00,b\n',
    'e.csv',
    time('elapsed-dhms', 't'),
    zero,
  );
  expect(open.value).toBeNull();
  expect(open.issues).toMatchObject([{ code: 'day-not-said', severity: 'error', line: 3 }]);
});

test('dates that end in the year are read in the order that the whole log shows', () => {
  const rows = ['t,event', '05/04/2031 09:00:00,a', '17/04/2031 09:00:00,b'];
  const iso = { ...time('iso8601', 't') };
  const { value, issues } = readLog(rows.join('\n'), 'e.csv', iso, zero);
  const [a, b] = value?.entries.map(({ sourceS }) => sourceS) ?? [];
  // From 5 to 17 April there are 12 days.
  expect((b ?? 0) - (a ?? 0)).toBe(12 * 86_400);
  expect(issues).toMatchObject([{ code: 'date-order-found', severity: 'warning' }]);
  const open = readLog(rows.slice(0, 2).join('\n'), 'e.csv', iso, zero);
  expect(open.value).toBeNull();
  expect(open.issues).toMatchObject([{ code: 'date-order-open', severity: 'error' }]);
  const stated = { ...iso, dateOrder: 'month-day-year' } as const;
  const read = readLog(rows.slice(0, 2).join('\n'), 'e.csv', stated, zero);
  // 5 April and 4 May are 29 days apart.
  expect((read.value?.entries[0]?.sourceS ?? 0) - (a ?? 0)).toBe(29 * 86_400);
});

test('a column of messages is read as what was said, and this is said; nothing is taken for event', () => {
  const text = 't,Message,events\n1,Range 200,go\n2,Copy,\n';
  const { value, issues } = readLog(text, 'e.csv', time('elapsed-seconds', 't'), zero);
  expect(value?.entries.map((entry) => [entry.text, entry.event])).toEqual([
    ['Range 200', null],
    ['Copy', null],
  ]);
  expect(issues).toMatchObject([{ code: 'column-taken', severity: 'warning', line: 1 }]);
});
