import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { strToU8, type ZipOptions, zipSync } from 'fflate';
import { expect, test } from 'vitest';
import { listFiles } from '@/lib/server/durable-files';
import { UNZIP_LIMITS, type UnzipLimits, unzip } from '@/lib/server/uploads/unzip';
import { freshDataDir } from '../support/data-dir';

const { dataDir } = freshDataDir();

type Content = Record<string, Uint8Array | [Uint8Array, ZipOptions]>;

async function unpack(bytes: Uint8Array, limits: UnzipLimits = UNZIP_LIMITS) {
  const file = path.join(dataDir(), 'flight.zip');
  const into = path.join(dataDir(), 'unpacked');
  writeFileSync(file, bytes);
  const issues = await unzip({ file, into, limits });
  return { issues, into, names: issues.length === 0 ? await listFiles(into) : [] };
}

const pack = (content: Content): Uint8Array => zipSync(content);

test('files and folders come out as they went in, stored or deflated', async () => {
  const csv = strToU8('t,x\n'.repeat(40_000));
  const { issues, into, names } = await unpack(
    pack({
      'flight/session.yaml': strToU8('title: Ä'),
      'flight/data/a.csv': [csv, { level: 6 }],
      'flight/b.csv': [csv, { level: 0 }],
      '__MACOSX/flight/._a.csv': strToU8('junk'),
      'flight/.DS_Store': strToU8('junk'),
    }),
  );
  expect(issues).toEqual([]);
  expect(names).toEqual(['flight/b.csv', 'flight/data/a.csv', 'flight/session.yaml']);
  expect(readFileSync(path.join(into, 'flight/data/a.csv')).equals(csv)).toBe(true);
  expect(readFileSync(path.join(into, 'flight/b.csv')).equals(csv)).toBe(true);
});

test.each(['../evil.txt', 'a/../../evil.txt', '/etc/evil', 'a\\..\\evil', 'C:/evil', 'a//b'])(
  'a name that leads out of the folder is refused: %s',
  async (name) => {
    const { issues } = await unpack(pack({ 'ok.csv': strToU8('1'), [name]: strToU8('1') }));
    expect(issues.map((issue) => issue.code)).toEqual(['unsafe-name']);
    expect(issues[0]?.message).toContain(`holds "${name}"`);
    expect(await listFiles(dataDir())).not.toContain('unpacked/ok.csv');
  },
);

test('folders parted by backslashes on Windows, and names from the place itself, are read', async () => {
  const windows = await unpack(
    pack({ 'flight\\session.yaml': strToU8('1'), 'flight\\a.csv': strToU8('2') }),
  );
  expect(windows.names).toEqual(['flight/a.csv', 'flight/session.yaml']);
  const unix: ZipOptions = { os: 3 };
  const { issues } = await unpack(pack({ 'a\\b.csv': [strToU8('1'), unix] }));
  expect(issues).toMatchObject([{ code: 'unsafe-name' }]);
  const dotted = await unpack(pack({ './b.csv': strToU8('1') }));
  expect(dotted.names).toContain('b.csv');
});

test.each([
  ['Deflate64', 10, 9, 'zip-method', /"a\.csv" and 2 more packed with Deflate64: pack it again/],
  ['a password', 8, 1, 'encrypted-zip', /is encrypted \("a\.csv" and 2 more\): pack it without/],
])('an archive with %s is refused in one sentence', async (_how, offset, value, code, message) => {
  const names = ['a.csv', 'b.csv', 'c.csv'];
  const bytes = Buffer.from(pack(Object.fromEntries(names.map((name) => [name, strToU8('1,2')]))));
  const entry = Buffer.from('PK\u0001\u0002', 'latin1');
  for (let at = bytes.indexOf(entry); at !== -1; at = bytes.indexOf(entry, at + 4))
    bytes.writeUInt16LE(value, at + offset);
  const { issues } = await unpack(bytes);
  expect(issues.map((issue) => issue.code)).toEqual([code]);
  expect(issues[0]?.message).toMatch(message);
});

test('a link is refused', async () => {
  const link: ZipOptions = { os: 3, attrs: (0o120777 << 16) >>> 0 };
  const { issues } = await unpack(pack({ 'telemetry.csv': [strToU8('/etc/passwd'), link] }));
  expect(issues[0]).toMatchObject({ code: 'link-in-zip' });
});

test('a bomb is refused before a byte of it is written', async () => {
  const zeros = new Uint8Array(8 * 1024 * 1024);
  const { issues } = await unpack(pack({ 'telemetry.csv': [zeros, { level: 9 }] }));
  expect(issues[0]).toMatchObject({ code: 'zip-bomb' });
  expect(issues[0]?.message).toMatch(/packed \d+ to 1/);
});

test('an archive with too many entries or too much in it is refused', async () => {
  const content = Object.fromEntries(
    Array.from({ length: 5 }, (_, index) => [`${index}.csv`, strToU8('12345')]),
  );
  const many = await unpack(pack(content), { ...UNZIP_LIMITS, maxEntries: 4 });
  expect(many.issues[0]?.message).toMatch(/holds 5 entries, more than 4/);
  const much = await unpack(pack(content), { ...UNZIP_LIMITS, maxTotalBytes: 24 });
  expect(much.issues[0]).toMatchObject({ code: 'zip-too-large' });
});

test('an archive that does not fit on the disk is refused before it is unpacked', async () => {
  const limits = { ...UNZIP_LIMITS, keepFreeBytes: 1e18 };
  const { issues } = await unpack(pack({ 'a.csv': strToU8('1') }), limits);
  expect(issues).toMatchObject([{ code: 'disk-full' }]);
  expect(await listFiles(dataDir())).not.toContain('unpacked/a.csv');
});

test('entries that lie over each other are refused', async () => {
  const packed: ZipOptions = { level: 0 };
  const names = Array.from({ length: 40 }, (_, index) => `${index}.csv`);
  const whole = strToU8('x'.repeat(10_000));
  const rest = Object.fromEntries(names.map((name) => [name, strToU8('')]));
  const bytes = Buffer.from(pack({ 'a.csv': [whole, packed], ...rest }));
  // Every entry of the list is pointed at the first one's data.
  let at = bytes.indexOf(Buffer.from('PK\u0001\u0002', 'latin1'));
  for (; at !== -1; at = bytes.indexOf(Buffer.from('PK\u0001\u0002', 'latin1'), at + 4)) {
    bytes.writeUInt32LE(10_000, at + 20);
    bytes.writeUInt32LE(10_000, at + 24);
    bytes.writeUInt32LE(0, at + 42);
  }
  const { issues } = await unpack(bytes);
  expect(issues).toMatchObject([{ code: 'zip-bomb' }]);
});

test('of a thousand bad names some are named and the rest counted, in signs one can see', async () => {
  const names = Array.from({ length: 1000 }, (_, index) => `\u202e${index}\n`);
  const { issues } = await unpack(
    pack(Object.fromEntries(names.map((name) => [name, strToU8('')]))),
  );
  expect(issues).toHaveLength(21);
  expect(issues[0]?.message).toContain('"\\u202e0\\u000a"');
  expect(issues[20]?.message).toContain('980 more entries');
});

test('data that is longer than the list says stops the unpacking', async () => {
  const bytes = Buffer.from(pack({ 'a.csv': [strToU8('x'.repeat(1000)), { level: 9 }] }));
  const directory = bytes.lastIndexOf(Buffer.from('PK\u0001\u0002', 'latin1'));
  bytes.writeUInt32LE(10, directory + 24);
  const { issues } = await unpack(bytes);
  expect(issues[0]?.message).toMatch(/"a\.csv" is longer than its list says/);
});

test('a damaged byte is found by the checksum', async () => {
  const bytes = Buffer.from(pack({ 'a.csv': [strToU8('t,x\n1,2\n'), { level: 0 }] }));
  const at = bytes.indexOf('1,2');
  bytes.write('9', at);
  const { issues } = await unpack(bytes);
  expect(issues[0]?.message).toMatch(/"a\.csv" is damaged/);
});

test.each([
  ['no archive', Buffer.from('not a zip at all, but long enough to look at')],
  ['nothing', Buffer.alloc(0)],
])('%s is said to be no .zip', async (_name, bytes) => {
  const { issues } = await unpack(bytes);
  expect(issues).toHaveLength(1);
  expect(issues[0]).toMatchObject({ code: 'bad-zip', file: 'flight.zip' });
});

test('an archive cut off anywhere gives one message and never throws', async () => {
  const whole = pack({ 'session.yaml': strToU8('title: A'), 'a.csv': strToU8('t,x\n1,2\n') });
  for (let length = 0; length < whole.length; length += 1) {
    const { issues } = await unpack(whole.slice(0, length));
    expect(issues).toHaveLength(1);
  }
});

test('two names that are one on some disks are refused', async () => {
  const { issues } = await unpack(pack({ 'A.csv': strToU8('1'), 'a.csv': strToU8('2') }));
  expect(issues[0]).toMatchObject({ code: 'name-twice' });
});

test('a name that is both a file and a folder is refused', async () => {
  const { issues } = await unpack(pack({ a: strToU8('1'), 'a/b.csv': strToU8('2') }));
  expect(issues[0]).toMatchObject({ code: 'name-twice' });
});
