/**
 * Loads the demo once, as a first start does, before any journey: the data folder that it leaves is
 * what the server of each worker starts over. The flight's folder alone is what journeys import.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { request } from '@playwright/test';
import { demoLoaded } from './demo-session';
import { DEMO_FLIGHT } from './session-folders';
import { DEMO_DATA, startWakeline } from './wakeline-server';

export default async function loadDemoOnce(): Promise<() => Promise<void>> {
  const server = await startWakeline();
  const flights = mkdtempSync(path.join(tmpdir(), 'wakeline-flight-'));
  const flight = path.join(flights, 'demo');
  execFileSync(process.execPath, ['.built/make-demo.mjs', flight, '--flight']);
  const asking = await request.newContext({ baseURL: server.url });
  await demoLoaded(asking);
  await asking.dispose();
  await server.stop('SIGTERM');
  process.env[DEMO_DATA] = server.dataDir;
  process.env[DEMO_FLIGHT] = flight;
  return async () => {
    rmSync(flights, { recursive: true, force: true });
    await server.remove();
  };
}
