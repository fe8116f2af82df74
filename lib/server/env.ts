/** The one reader of process.env: what the operator may set, checked, with one clear line per fault. */
import path from 'node:path';

export type Env = Readonly<{
  port: number;
  host: string;
  /** Absolute folder that holds everything the program keeps. */
  dataDir: string;
  /** `file:` URL of the SQLite file. */
  databaseUrl: string;
  /** Origin that browsers use, without a slash at the end. */
  appUrl: string;
}>;

type Values = Readonly<Record<string, string | undefined>>;
type Read<T> = Readonly<{ value: T; problem: string | null }>;

const DEFAULT_PORT = 3000;

/** True for a host name or address that only this machine can reach. */
export function isLoopback(host: string): boolean {
  const bare = host.replace(/^\[|\]$/g, '').toLowerCase();
  return bare === 'localhost' || bare === '::1' || /^127(\.\d{1,3}){3}$/.test(bare);
}

function given(values: Values, name: string): string | null {
  const text = values[name]?.trim() ?? '';
  return text === '' ? null : text;
}

function readPort(values: Values): Read<number> {
  const text = given(values, 'PORT');
  if (text === null) return { value: DEFAULT_PORT, problem: null };
  const port = /^\d{1,5}$/.test(text) ? Number(text) : Number.NaN;
  if (port >= 1 && port <= 65_535) return { value: port, problem: null };
  return {
    value: DEFAULT_PORT,
    problem: `PORT is "${text}": a whole number from 1 to 65535 is needed, for example 3000.`,
  };
}

function readHost(values: Values): Read<string> {
  const host = given(values, 'HOST') ?? '127.0.0.1';
  if (isLoopback(host)) return { value: host, problem: null };
  return {
    value: host,
    problem: `HOST is "${host}": only this machine may be served (127.0.0.1, ::1 or localhost) until sign-in exists.`,
  };
}

function readDatabaseUrl(values: Values, dataDir: string): Read<string> {
  const url = given(values, 'DATABASE_URL');
  if (url === null) return { value: `file:${path.join(dataDir, 'wakeline.db')}`, problem: null };
  if (/^postgres(ql)?:/i.test(url)) {
    return {
      value: '',
      problem: 'DATABASE_URL names PostgreSQL, which is not supported yet: use a SQLite file.',
    };
  }
  if (/^file:(?!\/\/)[^?]+$/.test(url)) {
    return {
      value: `file:${path.resolve(/* turbopackIgnore: true */ url.slice('file:'.length))}`,
      problem: null,
    };
  }
  return {
    value: '',
    problem: `DATABASE_URL is "${url.split('@').pop() ?? ''}": a SQLite file is needed, for example file:./data/wakeline.db.`,
  };
}

function readAppUrl(values: Values, host: string, port: number): Read<string> {
  const name = host.includes(':') && !host.startsWith('[') ? `[${host}]` : host;
  const text = given(values, 'APP_URL') ?? `http://${name}:${port}`;
  const url = URL.canParse(text) ? new URL(text) : null;
  const isOrigin =
    url !== null &&
    url.pathname === '/' &&
    url.search === '' &&
    url.hash === '' &&
    url.username === '';
  if (url !== null && isOrigin && /^https?:$/.test(url.protocol)) {
    return { value: url.origin, problem: null };
  }
  return {
    value: text,
    problem: `APP_URL is "${text}": the address that browsers use is needed, without a path, for example http://127.0.0.1:3000.`,
  };
}

/**
 * Reads and checks the settings.
 *
 * @param values the process's environment, or a test's
 * @returns all settings with defaults filled in, and one sentence for each wrong one
 */
export function readEnv(values: Values): Readonly<{ env: Env; problems: readonly string[] }> {
  const port = readPort(values);
  const host = readHost(values);
  const dataDir = path.resolve(/* turbopackIgnore: true */ given(values, 'DATA_DIR') ?? 'data');
  const databaseUrl = readDatabaseUrl(values, dataDir);
  const appUrl = readAppUrl(values, host.value, port.value);
  return {
    env: {
      port: port.value,
      host: host.value,
      dataDir,
      databaseUrl: databaseUrl.value,
      appUrl: appUrl.value,
    },
    problems: [port, host, databaseUrl, appUrl].flatMap((read) => read.problem ?? []),
  };
}

/** The settings of this process; throws with the plain sentences when one is wrong. */
export function env(): Env {
  const read = readEnv(process.env);
  if (read.problems.length > 0) throw new Error(read.problems.join(' '));
  return read.env;
}
