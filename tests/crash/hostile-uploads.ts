/**
 * Uploads as nobody should send them: each through the route as a browser posts it, then through the
 * reading that an import begins with. What comes of it is a refusal that says why, files that a
 * person can describe, or a session; nothing throws, and nothing half-written stays.
 */
import { gzipSync } from 'node:zlib';
import { strToU8, type Zippable, zipSync } from 'fflate';
import { smallSession } from '../support/small-session';

export type HostileFile = Readonly<{ name: string; content: string | Uint8Array }>;

export type HostileUpload = Readonly<{
  what: string;
  files: () => readonly HostileFile[];
  /** The code of the first error; `described` and `read` for what is no fault. */
  end: string;
  /** Takes seconds: left to the long campaign. */
  size: 'small' | 'large';
}>;

const SESSION = smallSession();

/** The small session with other files; a text of null leaves one out. */
function session(changes: Readonly<Record<string, string | null>>): readonly HostileFile[] {
  return [...smallSession(changes)].map(([name, content]) => ({ name, content }));
}

function sessionBytes(name: string, content: Uint8Array): readonly HostileFile[] {
  const text = SESSION.get('session.yaml') ?? '';
  return [
    ...session({ 'telemetry.csv': null, 'session.yaml': text.replace('telemetry.csv', name) }),
    { name, content },
  ];
}

function zipped(change: Zippable, name = 'flight.zip'): readonly HostileFile[] {
  const files = [...SESSION].map(([each, text]) => [each, strToU8(text)] as const);
  return [{ name, content: zipSync({ ...Object.fromEntries(files), ...change }) }];
}

const bytesOf = (text: string): Uint8Array => Buffer.from(text);
const nested = (open: string, close: string, depth = 100_000): string =>
  open.repeat(depth) + close.repeat(depth);
const yamlWith = (extra: string): readonly HostileFile[] =>
  session({ 'session.yaml': `${SESSION.get('session.yaml')}${extra}\n` });
const one = (name: string, content: string | Uint8Array) => () => [{ name, content }];
const zipOfSession = (): Uint8Array => zipped({})[0]?.content as Uint8Array;

const aliases = [
  'a: &a [x, x, x, x, x, x, x, x, x]',
  ...'bcdefghi'.split('').map((name, at) => {
    const before = 'abcdefgh'[at];
    return `${name}: &${name} [${Array.from({ length: 9 }, () => `*${before}`).join(', ')}]`;
  }),
].join('\n');

const small = (what: string, files: () => readonly HostileFile[], end: string): HostileUpload => ({
  what,
  files,
  end,
  size: 'small',
});

const large = (what: string, files: () => readonly HostileFile[], end: string): HostileUpload => ({
  what,
  files,
  end,
  size: 'large',
});

const NAMES: readonly HostileUpload[] = [
  ...[
    'a\u0007b.csv',
    '"quoted".csv',
    '../../etc/passwd',
    'a/../b.csv',
    'x'.repeat(300),
    'a\nb.csv',
    '\u202efsc.gpj',
    'C:\\flight\\a.csv',
    '.',
    '..',
    '/a.csv',
    `${'d/'.repeat(40)}a.csv`,
    ' a.csv',
  ].map((name) =>
    small(`name ${JSON.stringify(name).slice(0, 40)}`, one(name, 't,x\n1,2\n'), 'unsafe-name'),
  ),
  small(
    "a name with '; DROP and <b>",
    one("'; DROP TABLE x; --.csv", 't,x\n1,2\n2,3\n'),
    'described',
  ),
  small('a name that is only a gzip ending', one('..gz', gzipSync('t,x\n1,2\n2,3\n')), 'described'),
  small(
    'a name of dots with a gzip ending',
    one('...gz', gzipSync('t,x\n1,2\n2,3\n')),
    'described',
  ),
];

const LIARS: readonly HostileUpload[] = [
  small('nothing in it', one('telemetry.csv', ''), 'file-useless'),
  small(
    'a picture called .csv',
    one('telemetry.csv', Buffer.from('89504e470d0a1a0a00000000', 'hex')),
    'file-useless',
  ),
  small(
    'a picture as the telemetry of a session',
    () => sessionBytes('a.csv', Buffer.from('89504e470d0a1a0a00000000', 'hex')),
    'not-text',
  ),
  small('text called .zip', one('flight.zip', 't,x\n1,2\n'), 'bad-zip'),
  small(
    'text called .parquet',
    () => sessionBytes('a.parquet', bytesOf('t,x\n1,2\n')),
    'column-missing',
  ),
  small(
    'only the mark of Parquet',
    () => sessionBytes('a.parquet', bytesOf('PAR1PAR1')),
    'no-table',
  ),
  small('a zip called .csv', () => sessionBytes('a.csv', zipOfSession()), 'not-text'),
  small(
    'a zip cut short',
    () => [{ name: 'f.zip', content: zipOfSession().slice(0, 900) }],
    'bad-zip',
  ),
  small(
    'gzip cut short',
    () => sessionBytes('a.csv.gz', gzipSync(SESSION.get('telemetry.csv') ?? '').subarray(0, 2000)),
    'gzip-broken',
  ),
  small(
    'session.yaml as bytes',
    () => session({ 'session.yaml': '\u0000\u0001\u0002PAR1' }),
    'not-text',
  ),
  small(
    'events with a zero byte',
    () => session({ 'events.csv': 't,event\n\u0000\u0000,\u0000\n' }),
    'not-text',
  ),
];

const NESTED: readonly HostileUpload[] = [
  small('100,000 brackets in YAML', () => yamlWith(`x: ${nested('[', ']')}`), 'yaml-too-deep'),
  small(
    '100,000 braces in JSON',
    () => session({ 'session.yaml': null, 'session.json': nested('{"a":', '}') }),
    'yaml-too-deep',
  ),
  small(
    '100,000 brackets in JSON Lines',
    one('a.jsonl', `{"t":0,"x":${nested('[', ']')}}\n`),
    'file-useless',
  ),
  small('an alias bomb', () => yamlWith(aliases), 'yaml-aliases'),
  small('100,000 brackets as a log', () => session({ 'events.csv': nested('[', ']') }), 'no-table'),
];

const ZIPS: readonly HostileUpload[] = [
  small('a zip that slips out', () => zipped({ '../../evil.csv': bytesOf('1') }), 'unsafe-name'),
  small('a zip with an absolute name', () => zipped({ '/etc/evil': bytesOf('1') }), 'unsafe-name'),
  small(
    'a link in a zip',
    () => zipped({ 'a.csv': [bytesOf('/etc/passwd'), { os: 3, attrs: (0o120777 << 16) >>> 0 }] }),
    'link-in-zip',
  ),
  small(
    'a zip in a zip',
    () => [{ name: 'f.zip', content: zipSync({ 'inner.zip': zipOfSession() }) }],
    'file-useless',
  ),
  small('an empty zip', () => [{ name: 'f.zip', content: zipSync({}) }], 'no-session-file'),
  large(
    'a zip bomb',
    () => zipped({ 'big.csv': [new Uint8Array(64 << 20), { level: 9 }] }),
    'zip-bomb',
  ),
  large(
    'a gzip bomb',
    () => sessionBytes('a.csv.gz', gzipSync(Buffer.alloc(512 << 20, 't,x,y,z,vx,vy,vz\n'))),
    'gzip-too-large',
  ),
  large(
    'a gzip bomb without a session',
    one('a.csv.gz', gzipSync(Buffer.alloc(512 << 20, 't,x,y,z,vx,vy,vz\n'))),
    'file-useless',
  ),
  large(
    '70,000 files in a zip',
    () =>
      zipped(
        Object.fromEntries(Array.from({ length: 70_000 }, (_, at) => [`${at}.csv`, bytesOf('')])),
      ),
    'bad-zip',
  ),
];

const wide = (columns: number): string => {
  const names = Array.from({ length: columns }, (_, at) => `c${at}`);
  const row = names.map((_, at) => at % 10);
  return `t,${names}\n${Array.from({ length: 5 }, (_, at) => `${at},${row}`).join('\n')}\n`;
};

const LONG: readonly HostileUpload[] = [
  small(
    'a line of 1 MB as telemetry',
    () => session({ 'telemetry.csv': `t,x,y,z,vx,vy,vz\n${'9'.repeat(1 << 20)}\n` }),
    'no-usable-rows',
  ),
  small(
    'a header of 1 MB',
    () => session({ 'telemetry.csv': `t,${'x'.repeat(1 << 20)}\n1,2\n` }),
    'header-too-long',
  ),
  small(
    'a line of 1 MB as a log',
    () => session({ 'events.csv': `t,event,text\n1,go,${'a'.repeat(1 << 20)}\n` }),
    'read',
  ),
  small(
    'a line of 1 MB in session.yaml',
    () => yamlWith(`x: ${'a'.repeat(1 << 20)}`),
    'file-too-large',
  ),
  small(
    'an open quote',
    () =>
      session({ 'telemetry.csv': `t,x,y,z,vx,vy,vz\n0,1,1,1,1,1,1\n1,"${'a,b\n'.repeat(20_000)}` }),
    'column-missing',
  ),
  large('10,000 columns', () => session({ 'telemetry.csv': wide(10_000) }), 'too-many-columns'),
  large('10,000 columns without a session', one('a.csv', wide(10_000)), 'described'),
  large('a million blank lines', one('a.csv', '\n'.repeat(1 << 20)), 'file-useless'),
  large('a million commas', one('a.csv', ','.repeat(1 << 20)), 'file-useless'),
  large(
    '100,000 keys in session.yaml',
    () => yamlWith(Array.from({ length: 100_000 }, (_, at) => `k${at}: 1`).join('\n')),
    'file-too-large',
  ),
];

export const HOSTILE_UPLOADS: readonly HostileUpload[] = [
  ...NAMES,
  ...LIARS,
  ...NESTED,
  ...ZIPS,
  ...LONG,
];
