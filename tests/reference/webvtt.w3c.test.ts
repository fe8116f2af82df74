/**
 * Source: W3C WebVTT (index.bs of 14 May 2026): "collect a WebVTT timestamp", "collect a WebVTT
 * block", and the shapes of the web-platform-tests for cue timings (the files were tried by hand,
 * the cases below are written for this project).
 */
import { expect, test } from 'vitest';
import { readWebVtt } from '@/lib/core/intake/formats/webvtt';

const zero = { taiNs: 0n };

function read(text: string) {
  return readWebVtt({ text, fileName: 'a.vtt', time: null, zero });
}

/** Start of the one good cue, beside a cue that keeps the file readable; NaN where it is refused. */
function startOf(stamp: string): number {
  const log = read(`WEBVTT\n\n${stamp} --> 999:00:00.000\nx\n\n00:00.000 --> 00:01.000\nkeep`);
  return log.value?.entries.find((entry) => entry.text === 'x')?.sourceS ?? NaN;
}

test.each([
  ['04:02.500', 242.5],
  ['04:05.001', 245.001],
  ['00:03:33.000', 213],
  ['100:00:00.000', 360_000],
  ['0:00:01.000', 1],
  ['000:00:01.000', 1],
])('the stamp %s is %d s', (stamp, expectedS) => {
  expect(startOf(stamp)).toBe(expectedS);
});

test.each([
  '61:00.000',
  '1:00.000',
  '00:60.000',
  '00:00:60.000',
  '00:01,000',
  '00:01.00',
  '00:01.0000',
  '00:01',
  '00:1.000',
  '00:000:00.000',
  '00::00.000',
  'x00:01.000',
])('%s is no stamp', (stamp) => {
  expect(startOf(stamp)).toBeNaN();
});

test('hours may be left out on one side only, and white space round the arrow', () => {
  const log = read(
    'WEBVTT\n\n00:00.000-->00:00:01.000\na\n\n00:00:02.000 \t--> \t00:03.000 line:0\nb',
  );
  expect(log.value?.entries.map(({ sourceS, sourceEndS }) => [sourceS, sourceEndS])).toEqual([
    [0, 1],
    [2, 3],
  ]);
});

test("cues timed as in the standard's sample: a voice is the speaker, cues may overlap, settings are let be", () => {
  const log = read(`WEBVTT

00:11.000 --> 00:13.000
<v FIRST SPEAKER>One line

00:30.000 --> 00:31.500 align:right size:50%
<v FIRST SPEAKER>Another line

00:30.500 --> 00:32.500 align:left size:50%
<v SECOND SPEAKER>A third
`);
  expect(log.issues).toEqual([]);
  expect(
    log.value?.entries.map((entry) => [entry.sourceS, entry.sourceEndS, entry.speaker]),
  ).toEqual([
    [11, 13, 'FIRST SPEAKER'],
    [30, 31.5, 'FIRST SPEAKER'],
    [30.5, 32.5, 'SECOND SPEAKER'],
  ]);
});

test('an arrow that cannot belong to a block ends it, and the cue after it is read', () => {
  const log = read(
    'WEBVTT\n\n-->\n00:00.000 --> 00:01.000\none\nfoo-->\n00:02.000 --> 00:03.000\ntwo',
  );
  expect(log.value?.entries.map((entry) => entry.text)).toEqual(['one', 'two']);
  expect(log.value).toMatchObject({ rowsRead: 4, rowsRejected: 2 });
});

test.each(['WEBVTT', 'WEBVTT - loop A', 'WEBVTT\tx', '\uFEFFWEBVTT'])(
  '%j is a signature',
  (first) => {
    const log = read(
      `${first}\nkind: captions\n\nNOTE a\nremark\n\nSTYLE\n::cue {}\n\n00:01.000 --> 00:02.000\nx`,
    );
    expect(log.value?.entries).toHaveLength(1);
  },
);

test.each(['WEBVTTx', 'webvtt', ' WEBVTT', '1'])('%j is no signature', (first) => {
  expect(read(`${first}\n\n00:01.000 --> 00:02.000\nx`).issues[0]?.code).toBe('webvtt-signature');
});

test.each(['\r\n', '\n', '\r'])('lines may end in %j', (end) => {
  const log = read(['WEBVTT', '', 'id', '00:01.000 --> 00:02.000', 'a', 'b', ''].join(end));
  expect(log.value?.entries[0]).toMatchObject({ text: 'a b', line: 4 });
});

test('tags are taken off and character references resolved', () => {
  const log = read(
    'WEBVTT\n\n00:01.000 --> 00:02.000\n<v.loud A &amp; B>x &lt;5&gt; <b>m</b>&nbsp;<00:01.500>y &#8722;1 &foo;',
  );
  expect(log.value?.entries[0]).toMatchObject({
    speaker: 'A & B',
    text: 'x <5> m\u00a0y \u22121 &foo;',
  });
});

test('two voices in a cue are two entries', () => {
  const log = read('WEBVTT\n\n00:01.000 --> 00:02.000\n<v A>Go.</v>\n<v B>Copy.</v>');
  expect(log.value?.entries.map(({ speaker, text }) => [speaker, text])).toEqual([
    ['A', 'Go.'],
    ['B', 'Copy.'],
  ]);
});

test('a cue that ends before it starts keeps its start and says so', () => {
  const log = read('WEBVTT\n\n00:02.000 --> 00:01.000\nx');
  expect(log.value?.entries[0]).toMatchObject({ sourceS: 2, sourceEndS: null });
  expect(log.issues[0]).toMatchObject({ code: 'cue-ends-early', line: 3, severity: 'warning' });
});

/** Source: W3C WebVTT, "WebVTT cue timings": the end is after the start, starts do not go back. */
test('a timing that breaks the grammar is told with its line, its side and the form expected', () => {
  const text = [
    'WEBVTT',
    '',
    '00:00:05.000 --> 00:00:05.000',
    'ends at once',
    '',
    '00:00:02.000 --> 00:00:03.000',
    'goes back',
    '',
    '00:00:00.00 --> 00:00:01.000',
    'two digits',
    '',
    '00:07.000 --> 000:08.000',
    'the end',
    '',
    'STYLE',
    '::cue { color: white }',
    '',
    'REGION',
    'id:left',
    '',
    'NOTE a note --x',
    '',
    '00:09.000 --> 00:10.000 line:0 region:left',
    'kept',
  ].join('\n');
  const { value, issues } = readWebVtt({
    text,
    fileName: 'a.vtt',
    time: null,
    zero: { taiNs: 0n },
  });
  expect(value).toMatchObject({ rowsRead: 5, rowsRejected: 2 });
  expect(value?.entries.map((entry) => entry.text)).toEqual(['goes back', 'ends at once', 'kept']);
  expect(issues.map(({ line, message }) => [line, message])).toEqual([
    [3, expect.stringContaining('ends when it starts')],
    [6, expect.stringContaining('before the one above it')],
    [9, expect.stringContaining('the start "00:00:00.00" is no time')],
    [12, expect.stringContaining('the end "000:08.000" is no time')],
  ]);
});
