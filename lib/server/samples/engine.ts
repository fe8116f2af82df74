/**
 * DuckDB as this program uses it: embedded, walled in, limited.
 *
 * Two kinds of instance. Queries share one instance a process and samples root; it may read that
 * root and nothing else. An import has an instance of its own for as long as it runs, which may
 * read its source file and its own temporary folder; spilled data goes there too and goes with it.
 */
import { availableParallelism, totalmem } from 'node:os';
import path from 'node:path';
import { type DuckDBConnection, DuckDBInstance } from '@duckdb/node-api';
import { sqlText } from './sql-text';

const MIB = 1024 * 1024;

function memoryLimit(share: number, mostMiB: number): string {
  return `${Math.max(256, Math.min(mostMiB, Math.floor((totalmem() * share) / MIB)))}MiB`;
}

type InstanceLimits = Readonly<{
  threads: number;
  memory: string;
  folders: readonly string[];
  files: readonly string[];
  spillTo: string;
  /** Footers of files are kept only where files never change. */
  keeps: 'metadata' | 'nothing';
}>;

type Opened = Readonly<{ instance: DuckDBInstance; connection: DuckDBConnection }>;

/** The connection is the one that set the limits; nothing can be set after it. */
async function openInstance(limits: InstanceLimits): Promise<Opened> {
  const instance = await DuckDBInstance.create(':memory:', {
    threads: String(limits.threads),
    memory_limit: limits.memory,
    autoinstall_known_extensions: 'false',
    autoload_known_extensions: 'false',
    preserve_insertion_order: 'true',
  });
  const connection = await instance.connect();
  const list = (paths: readonly string[]) => `[${paths.map(sqlText).join(', ')}]`;
  for (const statement of [
    `SET parquet_metadata_cache = ${limits.keeps === 'metadata'}`,
    'SET enable_progress_bar = true',
    'SET enable_progress_bar_print = false',
    `SET temp_directory = ${sqlText(limits.spillTo)}`,
    `SET allowed_directories = ${list(limits.folders)}`,
    `SET allowed_paths = ${list(limits.files)}`,
    'SET enable_external_access = false',
    'SET lock_configuration = true',
  ]) {
    await connection.run(statement);
  }
  return { instance, connection };
}

type Gate = { free: number; waiting: (() => void)[] };
type Shared = { instances: Map<string, Promise<DuckDBInstance>>; gate: Gate };

declare global {
  // One set of instances a process, whichever bundle of the server asks first.
  var wakelineSamples: Shared | undefined;
}

function shared(): Shared {
  globalThis.wakelineSamples ??= {
    instances: new Map(),
    gate: { free: 2 * availableParallelism(), waiting: [] },
  };
  return globalThis.wakelineSamples;
}

async function enter(gate: Gate): Promise<void> {
  if (gate.free > 0) {
    gate.free -= 1;
    return;
  }
  await new Promise<void>((resolve) => gate.waiting.push(resolve));
}

function leave(gate: Gate): void {
  const next = gate.waiting.shift();
  if (next === undefined) gate.free += 1;
  else next();
}

function sharedInstance(samplesRoot: string): Promise<DuckDBInstance> {
  const root = path.resolve(samplesRoot);
  const { instances } = shared();
  let instance = instances.get(root);
  if (instance === undefined) {
    instance = openInstance({
      threads: availableParallelism(),
      memory: memoryLimit(0.25, 2048),
      folders: [root],
      files: [],
      spillTo: path.join(root, '.tmp-spill'),
      keeps: 'metadata',
    }).then((opened) => {
      opened.connection.closeSync();
      return opened.instance;
    });
    instances.set(root, instance);
    instance.catch(() => instances.delete(root));
  }
  return instance;
}

/** Work on a connection of its own to the shared instance; at most two a core run at once. */
export async function withConnection<T>(
  samplesRoot: string,
  work: (connection: DuckDBConnection) => Promise<T>,
): Promise<T> {
  const instance = await sharedInstance(samplesRoot);
  const { gate } = shared();
  await enter(gate);
  try {
    const connection = await instance.connect();
    try {
      return await work(connection);
    } finally {
      connection.closeSync();
    }
  } finally {
    leave(gate);
  }
}

export type ImportEngineRequest = Readonly<{
  threads: number;
  /** The import's temporary folder: everything it writes, spilled data included. */
  folder: string;
  sourceFile: string;
  /** Further files it may read. */
  moreFiles?: readonly string[];
  signal: AbortSignal | undefined;
}>;

/**
 * Work on an instance made for one import. An abort interrupts the running statement, which then
 * throws; the caller's `signal.throwIfAborted()` turns that into the reason of the abort.
 */
export async function withImportEngine<T>(
  request: ImportEngineRequest,
  work: (connection: DuckDBConnection) => Promise<T>,
): Promise<T> {
  const { instance, connection } = await openInstance({
    threads: request.threads,
    memory: memoryLimit(0.25, 512 + 512 * request.threads),
    folders: [request.folder],
    files: [request.sourceFile, ...(request.moreFiles ?? [])],
    spillTo: path.join(request.folder, 'spill'),
    keeps: 'nothing',
  });
  const interrupt = () => connection.interrupt();
  request.signal?.addEventListener('abort', interrupt);
  try {
    request.signal?.throwIfAborted();
    return await work(connection);
  } catch (error) {
    request.signal?.throwIfAborted();
    throw error;
  } finally {
    request.signal?.removeEventListener('abort', interrupt);
    connection.closeSync();
    instance.closeSync();
  }
}
