/**
 * SQLite through libsql, with one connection that keeps its settings and transactions that wait.
 *
 * Left alone, the driver opens every transaction with a plain BEGIN, so that a second process which
 * reads and then writes fails at once whatever the busy timeout says; and it opens a new connection
 * after each transaction, which forgets the pragmas. The adapter lets one caller in at a time, so
 * one connection is enough: BEGIN IMMEDIATE and COMMIT are ordinary statements on it.
 */
import type { Client, Config, InStatement, ResultSet, Row, Transaction } from '@libsql/client';
import { PrismaLibSql } from '@prisma/adapter-libsql';

/** How long a statement waits for another process's write lock. */
export const BUSY_TIMEOUT_MS = 15_000;

const SETTINGS = [
  'PRAGMA journal_mode = WAL',
  'PRAGMA synchronous = FULL',
  'PRAGMA foreign_keys = ON',
  `PRAGMA busy_timeout = ${BUSY_TIMEOUT_MS}`,
  'PRAGMA temp_store = MEMORY',
] as const;

/**
 * The driver's own number mode throws on an instant (a 64-bit integer) and its other mode makes
 * every count a bigint, which the adapter then takes for text. So: small integers as numbers.
 */
function withPlainIntegers(result: ResultSet): ResultSet {
  const rows = result.rows.map((row) => {
    const plain: Row = { length: row.length };
    for (let index = 0; index < row.length; index += 1) {
      const value = row[index] ?? null;
      const isSmall = typeof value === 'bigint' && Number.isSafeInteger(Number(value));
      plain[index] = isSmall ? Number(value) : value;
    }
    return plain;
  });
  return { ...result, rows, toJSON: () => result.toJSON() };
}

/** A client whose transactions are immediate and stay on the client's own connection. */
function onOneConnection(client: Client, ready: Promise<void>): Client {
  const execute = async (statement: InStatement): Promise<ResultSet> => {
    await ready;
    return withPlainIntegers(await client.execute(statement));
  };
  const begin = async (): Promise<Transaction> => {
    await execute('BEGIN IMMEDIATE');
    let open = true;
    const rollback = async (): Promise<void> => {
      if (!open) return;
      open = false;
      await client.execute('ROLLBACK');
    };
    const commit = async (): Promise<void> => {
      try {
        await client.execute('COMMIT');
        open = false;
      } catch (error) {
        await rollback();
        throw error;
      }
    };
    return {
      execute,
      batch: (statements) => client.batch(statements),
      executeMultiple: (sql) => client.executeMultiple(sql),
      commit,
      rollback,
      close: () => {
        void rollback();
      },
      get closed() {
        return !open;
      },
    };
  };
  return new Proxy(client, {
    get(target, key) {
      if (key === 'execute') return execute;
      if (key === 'transaction') return begin;
      const value: unknown = Reflect.get(target, key, target);
      return typeof value === 'function' ? value.bind(target) : value;
    },
  });
}

/** Durable SQLite for Prisma. `url` is `file:` and an absolute path. */
export class DurableSqlite extends PrismaLibSql {
  constructor(url: string) {
    super({ url, timeout: BUSY_TIMEOUT_MS, intMode: 'bigint' });
  }

  override createClient(config: Config): Client {
    const client = super.createClient(config);
    const settle = async (): Promise<void> => {
      for (const setting of SETTINGS) await client.execute(setting);
    };
    const ready = settle();
    ready.catch(() => {}); // whoever executes first meets the failure
    return onOneConnection(client, ready);
  }
}
