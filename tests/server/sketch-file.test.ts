import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { gzipSync } from 'node:zlib';
import { DuckDBInstance } from '@duckdb/node-api';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { proposeSession } from '@/lib/core/intake/proposal/session-proposal';
import { sketchFile } from '@/lib/server/uploads/sketch-file';

const upload = { files: '' };
beforeEach(() => {
  upload.files = path.join(mkdtempSync(path.join(os.tmpdir(), 'wakeline-sketch-')), 'files');
  mkdirSync(upload.files);
});
afterEach(() => rmSync(path.dirname(upload.files), { recursive: true, force: true }));

const ROWS = Array.from({ length: 3000 }, (_, row) => {
  const at = String(row % 60).padStart(2, '0');
  const minute = String(Math.floor(row / 60)).padStart(2, '0');
  return [`2031-03-02T10:${minute}:${at}Z`, String(200 - 0.05 * row), '-0.05'] as const;
});
const COLUMNS = ['utc', 'x_m', 'vx_mps'] as const;
const CSV = [COLUMNS.join(','), ...ROWS.map((row) => row.join(',')), ''].join('\n');
const JSON_LINES = ROWS.map(([utc, x, vx]) =>
  JSON.stringify({ utc, x_m: Number(x), vx_mps: Number(vx) }),
).join('\n');

async function sketchOf(name: string, content: string | Uint8Array) {
  writeFileSync(path.join(upload.files, name), content);
  const sketch = await sketchFile(upload.files, name);
  // Nothing that was unpacked for the look stays.
  expect(readdirSync(path.dirname(upload.files))).toEqual(['files']);
  return sketch;
}

test('a packed table and JSON Lines are proposed as their plain table is', async () => {
  const plain = proposeSession([await sketchOf('a.csv', CSV)]).description.files[0];
  expect(plain?.channels.map(({ as }) => as)).toEqual(['position.x', 'velocity.x']);
  for (const [name, content] of [
    ['a.csv.gz', gzipSync(CSV)],
    ['a.jsonl', JSON_LINES],
    ['a.jsonl.gz', gzipSync(JSON_LINES)],
  ] as const) {
    const sketch = await sketchOf(name, content);
    expect(sketch).toMatchObject({ file: name, kind: 'table', bytes: content.length });
    expect(proposeSession([sketch]).description.files).toEqual([{ ...plain, file: name }]);
  }
});

test('Parquet is looked into in blocks from its first row to its last', async () => {
  const file = path.join(upload.files, 'a.parquet');
  const instance = await DuckDBInstance.create(':memory:');
  const connection = await instance.connect();
  await connection.run(
    `COPY (SELECT TIMESTAMP '2031-03-02 10:00:00' + to_seconds(i) AS utc, 200 - 0.05 * i AS x_m,
       CASE WHEN i = 1 THEN NULL ELSE -0.05::DOUBLE END AS vx_mps FROM range(20000) r(i))
     TO '${file}' (FORMAT parquet)`,
  );
  connection.closeSync();
  instance.closeSync();
  const sketch = await sketchFile(upload.files, 'a.parquet');
  expect(sketch).toMatchObject({ kind: 'table', said: 'a Parquet table of 3 columns' });
  expect(sketch.table?.cells.map((cells) => [cells[0], cells[1], cells.at(-1)])).toEqual([
    ['2031-03-02 10:00:00', '2031-03-02 10:00:01', '2031-03-02 15:33:19'],
    ['200.00', '199.95', '-799.95'],
    ['-0.05', '', '-0.05'],
  ]);
  expect(sketch.table?.blocks).toHaveLength(12);
  const [found] = proposeSession([sketch]).description.files;
  expect(found?.time).toMatchObject({ columns: ['utc'], code: 'iso8601' });
});

test('units of a row under the header are proposed, and no row of them is sampled', async () => {
  const text = 'time;x;vx\n[s];[ft];[ft/s]\n0;20;-0,1\n1;19,9;-0,1\n2;19,8;-0,1\n';
  const sketch = await sketchOf('a.csv', text);
  expect(sketch.table?.cells[0]).toEqual(['0', '1', '2']);
  const [file] = proposeSession([sketch]).description.files;
  expect(file?.channels.map(({ as, unit }) => [as, unit])).toEqual([
    ['position.x', 'ft'],
    ['velocity.x', 'ft/s'],
  ]);
});

test('columns set apart by runs of spaces, and rows that end early, are seen too', async () => {
  const spaced = 'time   x     vx\n 0.0   20.0  -0.1\n 1.0   19.9  -0.1\n10.0   19.0  -0.1\n';
  const sketch = await sketchOf('a.txt', spaced);
  expect(sketch.table?.columns).toEqual(['time', 'x', 'vx']);
  expect(sketch.table?.cells[1]).toEqual(['20.0', '19.9', '19.0']);
  const short = await sketchOf(
    'b.csv',
    'time,x,vx,note\n0,20,-0.1\n1,19.9,-0.1,late\n2,19.8,-0.1\n3,19.7,-0.1\n',
  );
  expect(short.table?.cells[3]).toEqual(['', 'late', '', '']);
});

test('JSON Lines of a log are a log; what is broken or packed twice is said', async () => {
  const log = '{"t":"00:00:01","text":"Range 200"}\n{"t":"00:00:02","text":"Copy"}\n';
  expect(await sketchOf('loop.jsonl', log)).toMatchObject({
    kind: 'log',
    said: 'a log as JSON Lines',
  });
  const whole = gzipSync(CSV);
  expect((await sketchOf('cut.csv.gz', whole.subarray(0, 200))).said).toBe('a broken gzip archive');
  expect((await sketchOf('twice.csv.gz', gzipSync(whole))).said).toBe(
    'a gzip archive, packed with gzip',
  );
  expect((await sketchOf('cut.parquet', 'PAR1\u0015 and no more')).said).toBe(
    'a Parquet file that cannot be read',
  );
});

test('first rows name their own lines, and no row is seen twice', async () => {
  const remarks =
    '# head\ntime,x,vx\n0,20,-0.1\n\n1,19.9\n# by, the, way\n2,19.8,-0.1\n3,19.7,-0.1\n';
  expect((await sketchOf('a.csv', remarks)).table).toMatchObject({
    lines: [3, 7, 8],
    cells: [['0', '2', '3'], expect.anything(), expect.anything()],
  });
  expect((await sketchOf('b.jsonl', '{"t":0,"x":1}\n\nno\n{"t":1,"x":2}\n')).table?.lines).toEqual([
    1, 4,
  ]);
  // The rest after the head is not a whole number of parts.
  const wide = Array.from({ length: 1500 }, (_, row) => `${row},${'1'.repeat(90)},0`);
  const long = await sketchOf('c.csv', `time,x,vx\n${wide.join('\n')}\n`);
  const stamps = long.table?.cells[0] ?? [];
  expect(stamps.at(-1)).toBe('1499');
  expect(new Set(stamps).size).toBe(stamps.length);
});

test('a table of numbers with a column of events is no log; stamps of a text log are proposed', async () => {
  const rows = Array.from({ length: 8 }, (_, at) => `${at * 0.05},${-at},861.7,0,31.9, -,3.8`);
  const table = `time,altitude,pressure,velocity,temperature,events,volts\n${rows.join('\n')}\n`;
  expect((await sketchOf('altimeter.csv', table)).kind).toBe('table');
  expect((await sketchOf('events.csv', 't,event,n\n1,a,1\n2,b,2\n')).kind).toBe('log');
  const logs = [
    [
      '06 32 17\tCREW\tRange 200 metres.\nand closing\n06 32 19\tFLIGHT\tCopy.\n',
      'elapsed-dhms',
      'UTC',
    ],
    ['[003:07:45:12] CREW: Go.\n', 'elapsed-dhms', 'UTC'],
    ['2031-03-02T10:00:00Z CREW: Go.\n', 'iso8601', 'UTC'],
    ['2031-03-02 10:00:00 CREW: Go.\n', 'iso8601', null],
    ['12.5 CREW: Go.\n14.0 FLIGHT: Copy.\n', 'elapsed-seconds', 'UTC'],
    ['1930212000.5 CREW: Go.\n1930212001.5 FLIGHT: Copy.\n', 'unix-seconds', 'UTC'],
  ] as const;
  for (const [text, code, scale] of logs) {
    const [file] = proposeSession([await sketchOf('loop.txt', text)]).description.files;
    expect(file, text).toMatchObject({ use: 'events', time: { columns: [], code, scale } });
  }
});

test('remarks above the first stamp, with a comma in them, make no table of a log', async () => {
  const lines = [
    'Notes of the crew',
    'PILOT: x, y a bit loose',
    '1:05:10 PM PILOT: at 900 feet, closing half a foot per second',
    '1:15:10 PM PILOT: passing 600 feet',
    '1:22:00 PM COMMANDER: looks good at 475',
    '',
  ];
  const sketch = await sketchOf('notes.txt', lines.join('\n'));
  expect(sketch.kind).toBe('log');
  const [file] = proposeSession([sketch]).description.files;
  expect(file?.time).toMatchObject({ code: 'elapsed-dhms', from: '' });
});
