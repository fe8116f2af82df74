/**
 * Loads the demo once, as a first start does, before any journey: the data folder that it leaves is
 * what the server of each worker starts over.
 */
import { request } from '@playwright/test';
import { demoLoaded } from './demo-session';
import { DEMO_DATA, startWakeline } from './wakeline-server';

export default async function loadDemoOnce(): Promise<() => Promise<void>> {
  const server = await startWakeline();
  const asking = await request.newContext({ baseURL: server.url });
  await demoLoaded(asking);
  await asking.dispose();
  await server.stop('SIGTERM');
  process.env[DEMO_DATA] = server.dataDir;
  return () => server.remove();
}
