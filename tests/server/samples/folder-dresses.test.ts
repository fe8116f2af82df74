/** A session folder whose files come packed, in parts, as Parquet and as CCSDS messages. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { gzipSync } from 'node:zlib';
import { DuckDBInstance } from '@duckdb/node-api';
import { expect, test } from 'vitest';
import type { SessionInput } from '@/lib/core/session/session-input';
import { readSessionFolder } from '@/lib/server/session-folder';
import { folderOnDisk, smallSession } from '../../support/small-session';

const SESSION = smallSession().get('session.yaml') ?? '';
const TABLE = smallSession().get('telemetry.csv') ?? '';

function read(folder: string) {
  const root = path.join(mkdtempSync(path.join(tmpdir(), 'wakeline-root-')), 'samples');
  return readSessionFolder(folder, { samplesRoot: root });
}

/** The small session with its telemetry in other files. */
function folderWith(session: string, files: Readonly<Record<string, string | Uint8Array>>): string {
  const folder = folderOnDisk(smallSession({ 'session.yaml': session, 'telemetry.csv': null }));
  for (const [name, content] of Object.entries(files)) {
    writeFileSync(path.join(folder, name), content);
  }
  return folder;
}

/** Stamps and columns of the telemetry, which must not depend on the dress. */
function samplesOf(input: SessionInput | null) {
  const source = input?.sources.find((each) => each.type === 'telemetry');
  if (source?.type !== 'telemetry') throw new Error('no telemetry was read');
  return { tS: source.tS, channels: source.channels.map(({ as, values }) => ({ as, values })) };
}

const plain = async () => samplesOf((await read(folderOnDisk(smallSession()))).input);

test('a pattern of packed files is one source with the samples of the whole', async () => {
  const [header = '', ...rows] = TABLE.trimEnd().split('\n');
  const part = (from: number, to: number) =>
    gzipSync([header, ...rows.slice(from, to), ''].join('\n'));
  const folder = folderWith(SESSION.replace('file: telemetry.csv', 'file: tm-*.csv.gz'), {
    'tm-10.csv.gz': part(400, 601),
    'tm-9.csv.gz': part(0, 400),
  });
  const { input, issues, files } = await read(folder);
  expect(issues).toEqual([]);
  expect(samplesOf(input)).toEqual(await plain());
  expect(files.map(({ name }) => name)).toEqual(
    expect.arrayContaining(['tm-*.csv.gz', 'tm-9.csv.gz', 'tm-10.csv.gz']),
  );
});

test('a pattern that fits no file, and file beside files, are errors', async () => {
  const none = await read(folderWith(SESSION.replace('file: telemetry.csv', 'file: tm-*.csv'), {}));
  expect(none.issues).toMatchObject([{ code: 'file-missing', received: 'tm-*.csv' }]);
  const both = SESSION.replace('file: telemetry.csv', 'file: a.csv\n    files: [b.csv]');
  const { issues } = await read(folderWith(both, { 'a.csv': TABLE, 'b.csv': TABLE }));
  expect(issues.map(({ code }) => code)).toContain('key-conflict');
});

test('Parquet with a column of times gives the samples of the table', async () => {
  const folder = folderWith(
    SESSION.replace('telemetry.csv', 'telemetry.parquet').replace(
      '{ column: t, code: elapsed-seconds }',
      '{ column: utc, code: iso8601 }',
    ),
    { 'all.csv': TABLE },
  );
  const instance = await DuckDBInstance.create(':memory:');
  const connection = await instance.connect();
  await connection.run(
    `COPY (SELECT make_timestamp_ns(epoch_ns(TIMESTAMP '2025-03-04 10:00:00') + CAST(round(t * 1e9) AS BIGINT)) AS utc, * EXCLUDE t
     FROM read_csv('${path.join(folder, 'all.csv')}')) TO '${path.join(folder, 'telemetry.parquet')}' (FORMAT parquet)`,
  );
  connection.closeSync();
  instance.closeSync();
  rmSync(path.join(folder, 'all.csv'));
  const { input, issues } = await read(folder);
  expect(issues).toEqual([]);
  expect(samplesOf(input)).toEqual(await plain());
});

/** Positions in kilometres have the digits of the table with the point moved. */
function orbitMessage(): string {
  const rows = TABLE.trimEnd().split('\n').slice(1);
  const states = rows.map((row) => {
    const [t = 0, ...numbers] = row.split(',').map(Number);
    const minute = String(Math.floor(t / 60)).padStart(2, '0');
    const second = (t % 60).toFixed(1).padStart(4, '0');
    return `2025-063T10:${minute}:${second} ${numbers.map((each) => (each / 1000).toFixed(7)).join(' ')}`;
  });
  return `CCSDS_OEM_VERS = 2.0\nCREATION_DATE = 2025-063T00:00:00\nORIGINATOR = TEST\nMETA_START\nOBJECT_NAME = A
TIME_SYSTEM = UTC\nMETA_STOP\n${states.join('\n')}\n`;
}

test('an orbit message is telemetry in its own units and time, and can be an ephemeris', async () => {
  const names = { x: 'X', y: 'Y', z: 'Z', vx: 'X_DOT', vy: 'Y_DOT', vz: 'Z_DOT' };
  const channels = Object.entries(names).reduce(
    (text, [from, to]) => text.replace(` ${from}: { as`, ` ${to}: { as`),
    SESSION.replace(/, unit: m(?:\/s)? /g, ' ').replace(
      '    time: { column: t, code: elapsed-seconds }\n',
      '',
    ),
  );
  const session = channels
    .replace('telemetry.csv', 'relative.oem')
    .replace('plan: plan', '  - { file: other.oem, type: ephemeris }\nplan: plan');
  const message = orbitMessage();
  const { input, issues } = await read(
    folderWith(session, { 'relative.oem': message, 'other.oem': message }),
  );
  expect(issues.map(({ code, file }) => [code, file])).toEqual([['not-computed', 'other.oem']]);
  const [ours, theirs] = [samplesOf(input), await plain()];
  expect(ours.tS).toEqual(theirs.tS);
  expect(ours.channels.map(({ as }) => as)).toEqual(theirs.channels.map(({ as }) => as));
  ours.channels.forEach(({ values }, index) => {
    const wanted = theirs.channels[index]?.values ?? new Float64Array(0);
    const apart = values.map((value, at) => Math.abs(value - (wanted[at] ?? Number.NaN)));
    expect(Math.max(...apart)).toBeLessThan(1e-9);
  });
});

test('a log may be packed, and in Latin-1 with a warning', async () => {
  const folder = folderOnDisk(
    smallSession({ 'session.yaml': SESSION.replace('events.csv', 'events.csv.gz') }),
  );
  writeFileSync(
    path.join(folder, 'events.csv.gz'),
    gzipSync(Buffer.from('t,event,text\n5,go,caf\u00e9\n', 'latin1')),
  );
  const { input, issues } = await read(folder);
  expect(issues.map(({ code, severity }) => [code, severity])).toEqual([
    ['encoding-assumed', 'warning'],
    ['file-unused', 'note'],
  ]);
  const log = input?.sources.find((each) => each.type === 'events');
  expect(log?.type === 'events' ? log.entries : []).toMatchObject([
    { event: 'go', text: 'caf\u00e9' },
  ]);
});

test('GPS weeks counted modulo 1024 are said, with what they lack', async () => {
  // 10:00:00 UTC on 4 March 2025 is second 208818 of week 2356, which is broadcast as 308.
  const rows = TABLE.trimEnd()
    .split('\n')
    .slice(1)
    .map((row) => row.replace(/^([\d.]+)/, (_, t) => `308,${208_818 + Number(t)}`));
  const session = SESSION.replace(
    '{ column: t, code: elapsed-seconds }',
    '{ columns: [week, tow], code: gps-week-seconds }',
  );
  const { issues } = await read(
    folderWith(session, { 'telemetry.csv': `week,tow,x,y,z,vx,vy,vz\n${rows.join('\n')}\n` }),
  );
  expect(issues.map(({ code }) => code)).toEqual(['gps-week-rollover']);
});

/** The small session's telemetry with times of day, its 601 rows from 23:59:30 on. */
function clockRows(): readonly string[] {
  const rows = TABLE.trimEnd().split('\n').slice(1);
  return rows.map((row) =>
    row.replace(/^([\d.]+)/, (_, t) => {
      const s = (86_370 + Number(t)) % 86_400;
      const two = (value: number) => String(Math.floor(value)).padStart(2, '0');
      return `${two(s / 3600)}:${two((s / 60) % 60)}:${(s % 60).toFixed(1).padStart(4, '0')}`;
    }),
  );
}

/** Both files hold times of day, the second those after midnight; read as `files` says. */
function clockFolder(files: string, names: readonly [string, string], order: 'up' | 'down' = 'up') {
  const rows = order === 'up' ? clockRows() : [...clockRows()].reverse();
  const midnight = rows.findIndex((row) => row.startsWith(order === 'up' ? '00:00:00' : '23:59'));
  const parts = [rows.slice(0, midnight), rows.slice(midnight)];
  const [header = ''] = TABLE.split('\n');
  const session = SESSION.replace('file: telemetry.csv', files).replace(
    'code: elapsed-seconds',
    "code: elapsed-dhms, from: '2025-03-03T10:00:30Z'",
  );
  const texts = parts.map((part) => [header, ...part, ''].join('\n'));
  return folderWith(session, { [names[0]]: texts[0] ?? '', [names[1]]: texts[1] ?? '' });
}

test('times of day go on over midnight from file to file, in the order of the names', async () => {
  const folder = clockFolder('file: tm-*.csv', ['tm-9.csv', 'tm-10.csv']);
  const { input, issues } = await read(folder);
  expect(issues).toMatchObject([
    { code: 'files-over-midnight', severity: 'note', file: 'tm-*.csv' },
    { code: 'carried-over-midnight', file: 'tm-10.csv', line: 2 },
  ]);
  expect(samplesOf(input)).toEqual(await plain());
});

test('names against the clock are said; a stated order against it is one error', async () => {
  const names = ['b.csv', 'a.csv'] as const;
  const { input, issues } = await read(clockFolder('file: "?.csv"', names));
  expect(issues[0]).toMatchObject({ code: 'files-over-midnight', severity: 'warning' });
  expect(issues[0]?.message).toContain('b.csv, a.csv; midnight lies between b.csv and a.csv');
  expect(samplesOf(input)).toEqual(await plain());
  const stated = await read(clockFolder('files: [a.csv, b.csv]', names));
  expect(stated.issues).toMatchObject([{ code: 'files-order-open', severity: 'error' }]);
  const right = await read(clockFolder('files: [b.csv, a.csv]', names));
  expect(samplesOf(right.input)).toEqual(await plain());
});

/** The telemetry as seconds of the day from 23:59:30 on, whole, in two files, or in long layout. */
function secondsFolder(form: 'one' | 'two' | 'long', unit: 's' | 'ms') {
  const [header = '', ...lines] = TABLE.trimEnd().split('\n');
  const rows = lines.map((row) =>
    row.replace(/^([\d.]+)/, (_, t) => {
      const tenths = (863_700 + Math.round(10 * Number(t))) % 864_000;
      return unit === 's' ? (tenths / 10).toFixed(1) : String(100 * tenths);
    }),
  );
  const midnight = rows.findIndex((row) => /^0(?:\.0)?,/.test(row));
  const code = unit === 's' ? 'elapsed-seconds' : 'elapsed-milliseconds';
  const session = SESSION.replace(
    'code: elapsed-seconds',
    `code: ${code}, from: '2025-03-03T10:00:30Z'`,
  );
  const names = header.split(',').slice(1);
  if (form === 'long') {
    const long = rows.flatMap((row) => {
      const [t, ...cells] = row.split(',');
      return cells.map((cell, at) => `${t},${names[at]},${cell}`);
    });
    const layout = 'layout: long\n    name_column: name\n    value_column: value\n    channels:';
    return folderWith(session.replace('channels:', layout), {
      'telemetry.csv': ['t,name,value', ...long, ''].join('\n'),
    });
  }
  if (form === 'one')
    return folderWith(session, { 'telemetry.csv': [header, ...rows, ''].join('\n') });
  return folderWith(session.replace('file: telemetry.csv', 'files: [a.csv, b.csv]'), {
    'a.csv': [header, ...rows.slice(0, midnight), ''].join('\n'),
    'b.csv': [header, ...rows.slice(midnight), ''].join('\n'),
  });
}

test.each([
  ['one', 's'],
  ['one', 'ms'],
  ['two', 's'],
  ['long', 's'],
] as const)(
  'seconds of the day go on over midnight, and it is said: %s in %s',
  async (form, unit) => {
    const { input, issues } = await read(secondsFolder(form, unit));
    expect(samplesOf(input)).toEqual(await plain());
    expect(issues).toContainEqual(
      expect.objectContaining({ code: 'counter-carried-on', severity: 'warning' }),
    );
  },
);

/** The telemetry cut after 60 s, its second half after a pause that the clock alone leaves open. */
function nightFolder(files: string, names: readonly [string, string], shiftS: number) {
  const [header = '', ...lines] = TABLE.trimEnd().split('\n');
  const clock = (row: string, s: number): string => {
    const t = Number(row.slice(0, row.indexOf(','))) + s;
    const two = (value: number) => String(Math.floor(value)).padStart(2, '0');
    const stamp = `${two(t / 3600)}:${two((t / 60) % 60)}:${(t % 60).toFixed(1).padStart(4, '0')}`;
    return row.replace(/^[\d.]+/, stamp);
  };
  const first = lines.slice(0, 300).map((row) => clock(row, 72_000));
  const second = lines.slice(300).map((row) => clock(row, (72_000 + shiftS) % 86_400));
  const session = SESSION.replace('file: telemetry.csv', files).replace(
    'code: elapsed-seconds',
    "code: elapsed-dhms, from: '2025-03-03T14:00:00Z'",
  );
  return folderWith(session, {
    [names[0]]: [header, ...first, ''].join('\n'),
    [names[1]]: [header, ...second, ''].join('\n'),
  });
}

test('files listed in their order may pause over the night; dates in names tell how many days', async () => {
  const { tS } = await plain();
  const [half = 0, last = 0] = [tS[300], tS[600]];
  // From 20:01 to 08:01 are twelve hours, which one day would allow in the other order.
  const names = ['b.csv', 'a.csv'] as const;
  const stated = await read(nightFolder('files: [b.csv, a.csv]', names, 43_200));
  expect(stated.issues).toMatchObject([
    { code: 'files-over-midnight', severity: 'warning' },
    { code: 'time-jumps' },
    { code: 'carried-over-midnight' },
  ]);
  expect(stated.issues[0]?.message).toContain('b.csv and a.csv with a pause of 12 h 0 min 0 s');
  const seen = samplesOf(stated.input).tS;
  expect([seen[300], seen[600]]).toEqual([half + 43_200, last + 43_200]);
  const named = await read(nightFolder('file: "?.csv"', ['a.csv', 'b.csv'], 43_200));
  expect(named.issues).toMatchObject([{ code: 'files-order-open', severity: 'error' }]);
  const dated = ['tm-2025-03-04.csv', 'tm-2025-03-06.csv'] as const;
  const two = await read(nightFolder('file: "tm-*.csv"', dated, 86_400 + 43_200));
  const later = samplesOf(two.input).tS;
  expect([later[300], later[600]]).toEqual([half + 129_600, last + 129_600]);
});

test('dates in names that the clock does not pass are said', async () => {
  const names = ['tm-2025-03-04.csv', 'tm-2025-03-05.csv'] as const;
  const { input, issues } = await read(nightFolder('file: "tm-*.csv"', names, 0));
  expect(issues).toMatchObject([{ code: 'dates-in-names-unused', severity: 'warning' }]);
  expect(samplesOf(input)).toEqual(await plain());
});

test('files that run from the latest row to the earliest are joined over midnight too', async () => {
  const { input } = await read(clockFolder('file: tm-*.csv', ['tm-2.csv', 'tm-1.csv'], 'down'));
  expect(samplesOf(input)).toEqual(await plain());
});
