/** What SQL could reach if a name or a text of a file ever became part of it: the samples, nothing else. */
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { samplesRoot } from '@/lib/server/data-folders';
import { withConnection, withImportEngine } from '@/lib/server/samples/engine';
import { sqlText } from '@/lib/server/samples/sql-text';
import { freshDataDir } from '../support/data-dir';

const { dataDir } = freshDataDir();

const WALLED = /disabled by configuration|locked|not allowed|Permission Error|disabled/i;

function attempts(inside: string): readonly string[] {
  const secret = sqlText(path.join(dataDir(), 'secret.csv'));
  return [
    `SELECT * FROM read_csv(${secret})`,
    `SELECT * FROM read_text('/etc/hostname')`,
    `SELECT * FROM read_text(${sqlText(`${inside}/../secret.csv`)})`,
    `SELECT * FROM glob('/etc/*')`,
    `SELECT * FROM read_csv('http://127.0.0.1:9/x.csv')`,
    `COPY (SELECT 1) TO ${sqlText(path.join(dataDir(), 'out.csv'))}`,
    `ATTACH ${sqlText(path.join(dataDir(), 'wakeline.db'))} AS store`,
    `ATTACH ${sqlText(path.join(dataDir(), 'new.duckdb'))} AS store`,
    'INSTALL httpfs',
    'LOAD httpfs',
    'SET enable_external_access = true',
    `SET allowed_directories = ['/']`,
    'SET autoload_known_extensions = true',
    'RESET lock_configuration',
    `EXPORT DATABASE ${sqlText(path.join(dataDir(), 'export'))}`,
  ];
}

type Run = Readonly<{ run: (sql: string) => Promise<unknown> }>;

async function reached(connection: Run, inside: string): Promise<readonly string[]> {
  const passed: string[] = [];
  for (const sql of attempts(inside)) {
    const outcome = await connection.run(sql).then(
      () => 'done',
      (error: unknown) => String(error),
    );
    if (!WALLED.test(outcome)) passed.push(`${sql}: ${outcome}`);
  }
  return passed;
}

function prepare(): void {
  mkdirSync(samplesRoot(), { recursive: true });
  writeFileSync(path.join(dataDir(), 'secret.csv'), 't\n1\n');
  writeFileSync(path.join(samplesRoot(), 'own.csv'), 't\n1\n');
}

test('queries reach the samples and nothing beside them', async () => {
  prepare();
  await withConnection(samplesRoot(), async (connection) => {
    const own = sqlText(path.join(samplesRoot(), 'own.csv'));
    await connection.run(`SELECT * FROM read_csv(${own})`);
    expect(await reached(connection, samplesRoot())).toEqual([]);
  });
});

test('an import reaches its source and its own folder and nothing beside them', async () => {
  prepare();
  const folder = path.join(samplesRoot(), '.tmp-own');
  mkdirSync(folder);
  const sourceFile = path.join(dataDir(), 'source.csv');
  writeFileSync(sourceFile, 't\n1\n');
  await withImportEngine({ threads: 1, folder, sourceFile, signal: undefined }, async (own) => {
    await own.run(
      `COPY (SELECT * FROM read_csv(${sqlText(sourceFile)})) TO ${sqlText(`${folder}/a.csv`)}`,
    );
    expect(await reached(own, folder)).toEqual([]);
    const other = sqlText(path.join(samplesRoot(), 'own.csv'));
    await expect(own.run(`SELECT * FROM read_csv(${other})`)).rejects.toThrow(WALLED);
  });
});
