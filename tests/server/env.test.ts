import path from 'node:path';
import { expect, test } from 'vitest';
import { readEnv } from '@/lib/server/env';

test('without settings it serves this machine on port 3000 from ./data', () => {
  const dataDir = path.resolve('data');
  expect(readEnv({})).toEqual({
    env: {
      port: 3000,
      host: '127.0.0.1',
      dataDir,
      databaseUrl: `file:${dataDir}/wakeline.db`,
      appUrl: 'http://127.0.0.1:3000',
    },
    problems: [],
  });
});

test.each([
  [{ PORT: '80a' }, /^PORT is "80a": a whole number from 1 to 65535/],
  [{ PORT: '70000' }, /^PORT is "70000"/],
  [{ PORT: '0' }, /^PORT is "0"/],
  [{ HOST: '0.0.0.0' }, /^HOST is "0\.0\.0\.0": only this machine/],
  [{ HOST: '192.168.1.4' }, /^HOST is "192\.168\.1\.4"/],
  [{ DATABASE_URL: 'postgresql://u:secret@db/w' }, /PostgreSQL, which is not supported yet/],
  [{ DATABASE_URL: 'mysql://u:secret@db/w' }, /^DATABASE_URL is "db\/w": a SQLite file/],
  [{ APP_URL: 'wakeline.example' }, /^APP_URL is "wakeline\.example"/],
  [{ APP_URL: 'http://a.example/path' }, /^APP_URL is/],
])('%o gets one clear line', (values, line) => {
  const { problems } = readEnv(values);
  expect(problems).toHaveLength(1);
  expect(problems[0]).toMatch(line);
  expect(problems[0]).not.toContain('secret');
});

test.each(['127.0.0.1', '127.8.0.1', '::1', 'localhost'])('HOST %s is this machine', (host) => {
  expect(readEnv({ HOST: host }).problems).toEqual([]);
});

test('an IPv6 host is written in brackets in the address', () => {
  expect(readEnv({ HOST: '::1', PORT: '8080' }).env.appUrl).toBe('http://[::1]:8080');
});
