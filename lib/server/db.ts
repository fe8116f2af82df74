/** The one Prisma client of this process. */
import { PrismaClient } from '@/prisma/generated/client/client';
import { env } from './env';
import { DurableSqlite } from './sqlite-adapter';

/** What a command's transaction offers: the client without what opens another one. */
export type Transaction = Parameters<Parameters<PrismaClient['$transaction']>[0]>[0];

/** Waits for the turn, and for the work, of one transaction. */
export const TRANSACTION_LIMITS = { maxWait: 15_000, timeout: 60_000 } as const;

/** A new client on a database of its own; for tests and tools. Ordinary code calls `db()`. */
export function openDatabase(databaseUrl: string): PrismaClient {
  return new PrismaClient({
    adapter: new DurableSqlite(databaseUrl),
    transactionOptions: TRANSACTION_LIMITS,
  });
}

type Opened = { databaseUrl: string; client: PrismaClient };
// The web framework may load this module more than once in a process; the client must stay one.
const shared: typeof globalThis & { wakelineDatabase?: Opened } = globalThis;

/** The client of the database that the settings name, opened on first use. */
export function db(): PrismaClient {
  const { databaseUrl } = env();
  const opened = shared.wakelineDatabase;
  if (opened?.databaseUrl === databaseUrl) return opened.client;
  if (opened !== undefined) void opened.client.$disconnect();
  const client = openDatabase(databaseUrl);
  shared.wakelineDatabase = { databaseUrl, client };
  return client;
}

/**
 * Closes the database of this process; the next `db()` opens it again.
 *
 * @internal for tests: a server's connection ends with its process
 */
export async function closeDatabase(): Promise<void> {
  const opened = shared.wakelineDatabase;
  if (opened === undefined) return;
  delete shared.wakelineDatabase;
  await opened.client.$disconnect();
}
