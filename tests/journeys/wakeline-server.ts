import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';

/** A server of the production build on its own port and data folder, for a browser journey. */
export type WakelineServer = Readonly<{
  url: string;
  dataDir: string;
  /** Everything it has printed since its last start. */
  output(): string;
  /** SIGTERM asks it to stop; SIGKILL ends it with everything it started, as a power cut would. */
  stop(signal: 'SIGTERM' | 'SIGKILL'): Promise<void>;
  /**
   * Halts the next import as soon as its process is there, so that a test can be in the middle of it
   * for as long as it likes; resolves to what lets it go on.
   */
  haltImport(): Promise<() => void>;
  /** Starts it again over the same data. */
  start(): Promise<void>;
  /** Stops it and removes its data. */
  remove(): Promise<void>;
}>;

const IMPORT_WITHIN_MS = 240_000;
const READY_WITHIN_MS = 240_000;

/** A port that nothing listens on at this moment. */
function findFreePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      const port = typeof address === 'object' && address !== null ? address.port : 0;
      probe.close(() => resolve(port));
    });
  });
}

async function waitUntilAnswers(url: string, child: ChildProcess, output: () => string) {
  const deadline = Date.now() + READY_WITHIN_MS;
  while (Date.now() < deadline) {
    if (child.exitCode !== null || child.signalCode !== null)
      throw new Error(`the server ended at once:\n${output()}`);
    const answer = await fetch(url).catch(() => null);
    if (answer?.ok) return;
    await new Promise((resolve) => setTimeout(resolve, 150));
  }
  throw new Error(`no answer from ${url} within ${READY_WITHIN_MS / 1000} s:\n${output()}`);
}

/** Ends the process and all it started; its group is its own. */
function killGroup({ pid }: ChildProcess) {
  if (pid === undefined) return;
  try {
    process.kill(-pid, 'SIGKILL');
  } catch {
    // Ended meanwhile.
  }
}

/** The process that reads an import, among all that the server started; null when there is none. */
function findImport({ pid }: ChildProcess): number | null {
  const found = spawnSync('pgrep', ['-g', String(pid), '-f', 'import-child'], { encoding: 'utf8' });
  if (found.error !== undefined) throw found.error;
  const first = found.stdout.trim().split('\n')[0] ?? '';
  return first === '' ? null : Number(first);
}

async function haltImportOf(server: ChildProcess): Promise<() => void> {
  const deadline = Date.now() + IMPORT_WITHIN_MS;
  while (Date.now() < deadline) {
    const pid = findImport(server);
    if (pid !== null) {
      process.kill(pid, 'SIGSTOP');
      return () => process.kill(pid, 'SIGCONT');
    }
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
  throw new Error('no import has started');
}

/** Names the data folder of a server that has loaded the demo and was stopped. */
export const DEMO_DATA = 'WAKELINE_DEMO_DATA';

/**
 * Starts the built server and waits until it answers.
 *
 * @param dataFrom a data folder to begin with a copy of; without it the folder is empty
 */
export async function startWakeline(dataFrom?: string): Promise<WakelineServer> {
  const dataDir = mkdtempSync(path.join(tmpdir(), 'wakeline-journey-'));
  if (dataFrom !== undefined) cpSync(dataFrom, dataDir, { recursive: true });
  const port = await findFreePort();
  const url = `http://127.0.0.1:${port}`;
  let child: ChildProcess | null = null;
  let printed = '';

  async function start() {
    printed = '';
    const running = spawn(process.execPath, ['--enable-source-maps', '.built/serve.mjs'], {
      detached: true,
      env: {
        ...process.env,
        NODE_ENV: 'production',
        NEXT_TELEMETRY_DISABLED: '1',
        PORT: String(port),
        HOST: '127.0.0.1',
        DATA_DIR: dataDir,
        DATABASE_URL: '',
        APP_URL: '',
      },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    running.stdout?.on('data', (chunk: Buffer) => {
      printed += chunk.toString();
    });
    running.stderr?.on('data', (chunk: Buffer) => {
      printed += chunk.toString();
    });
    child = running;
    await waitUntilAnswers(url, running, () => printed);
  }

  async function stop(signal: 'SIGTERM' | 'SIGKILL') {
    const running = child;
    child = null;
    if (running === null || running.exitCode !== null || running.signalCode !== null) return;
    const ended = new Promise<void>((resolve) => running.once('exit', () => resolve()));
    if (signal === 'SIGKILL') killGroup(running);
    else running.kill(signal);
    await ended;
    killGroup(running); // a halted import cannot end by itself
  }

  const endWithUs = () => {
    if (child !== null) killGroup(child);
  };
  process.once('exit', endWithUs);
  await start();
  return {
    url,
    dataDir,
    output: () => printed,
    stop,
    start,
    haltImport() {
      if (child === null) throw new Error('the server is stopped');
      return haltImportOf(child);
    },
    async remove() {
      await stop('SIGTERM');
      process.removeListener('exit', endWithUs);
      rmSync(dataDir, { recursive: true, force: true });
    },
  };
}
