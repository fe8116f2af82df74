/** Serves: checks the settings, takes the data folder for itself, migrates, runs the web server. */
import { type ChildProcess, fork } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { connect, createServer } from 'node:net';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as sleep } from 'node:timers/promises';
import { type Env, readEnv } from '@/lib/server/env';
import { lockDataDir } from '@/lib/server/lock-data-dir';
import { migrate } from '@/prisma/migrate.mjs';
import { serverEnd } from './server-end';

const HARD_EXIT_MS = 3_000;
const READY_WITHIN_MS = 60_000;

/** One clear line, and out. */
function giveUp(line: string): never {
  console.error(line);
  process.exit(1);
}

function reasonOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

function settings(): Env {
  const { env, problems } = readEnv(process.env);
  for (const problem of problems) console.error(problem);
  if (problems.length > 0) process.exit(1);
  return env;
}

function prepareDataDir(env: Env): void {
  let isOurs = false;
  try {
    mkdirSync(env.dataDir, { recursive: true });
    isOurs = lockDataDir(env.dataDir);
  } catch (error) {
    giveUp(`DATA_DIR "${env.dataDir}" cannot be made or written: ${reasonOf(error)}.`);
  }
  if (!isOurs) giveUp(`DATA_DIR "${env.dataDir}" is in use by another running server.`);
  try {
    const folder = path.resolve('prisma', 'migrations', 'sqlite');
    const applied = migrate({ url: env.databaseUrl, folder });
    if (applied.length > 0) console.log(`The database is brought up to date (${applied.length}).`);
  } catch (error) {
    giveUp(`The database cannot be used: ${reasonOf(error)}.`);
  }
}

async function requireFreePort({ host, port }: Env): Promise<void> {
  const probe = createServer();
  const failure = await new Promise<NodeJS.ErrnoException | null>((resolve) => {
    probe.once('error', resolve);
    probe.listen({ host, port, exclusive: true }, () => probe.close(() => resolve(null)));
  });
  if (failure === null) return;
  if (failure.code === 'EADDRINUSE') {
    giveUp(`Port ${port} on ${host} is already in use: set PORT to another number.`);
  }
  giveUp(`It cannot listen on ${host}, port ${port}: ${failure.message}.`);
}

function startWebServer({ host, port, appUrl }: Env): ChildProcess {
  const program = path.resolve('node_modules', 'next', 'dist', 'bin', 'next');
  const server = fork(program, ['start', '-H', host, '-p', String(port)], {
    stdio: ['ignore', 'pipe', 'inherit', 'ipc'],
    execArgv: ['--enable-source-maps'],
    env: { ...process.env, NODE_ENV: 'production', PORT: String(port), APP_URL: appUrl },
  });
  if (server.stdout !== null) {
    // The framework's own banner says what the line below says; the log passes.
    createInterface({ input: server.stdout }).on('line', (line) => {
      if (!/^\s*([▲✓-]|$)/.test(line)) console.log(line);
    });
  }
  return server;
}

function canConnect({ host, port }: Env): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = connect({ host, port });
    socket.once('connect', () => socket.end(() => resolve(true)));
    socket.once('error', () => resolve(false));
  });
}

async function sayWhenReady(env: Env): Promise<void> {
  const untilMs = performance.now() + READY_WITHIN_MS;
  while (performance.now() < untilMs) {
    if (await canConnect(env)) {
      console.log(`Wakeline is at ${env.appUrl}`);
      return;
    }
    await sleep(40);
  }
}

function stopTogether(server: ChildProcess): void {
  let asked: 'asked' | 'by-itself' = 'by-itself';
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
    process.on(signal, () => {
      asked = 'asked';
      server.kill('SIGTERM');
      setTimeout(() => {
        server.kill('SIGKILL');
        process.exit(0);
      }, HARD_EXIT_MS).unref();
    });
  }
  server.once('exit', (code, signal) => {
    const { line, exitCode } = serverEnd({ code, signal }, asked);
    if (line !== null) console.error(line);
    process.exit(exitCode);
  });
}

const env = settings();
await requireFreePort(env);
prepareDataDir(env);
const server = startWebServer(env);
stopTogether(server);
await sayWhenReady(env);
