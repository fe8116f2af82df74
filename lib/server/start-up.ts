/** What the server does before it answers: mend, then run the queue. */
import { ensureLocalActor } from './actor';
import { env } from './env';
import { startQueue } from './jobs/queue';
import { queueDemoOnce, queueStaleReconstructions, recover } from './jobs/recover';
import { adoptLeapList } from './leap-list';
import { logLine } from './log-line';
import { logStrayErrors } from './stray-errors';

export async function startUp(): Promise<void> {
  logStrayErrors();
  // The start script holds the data folder's lock: without it this process must not go on.
  if (process.send !== undefined) {
    process.once('disconnect', () => process.exit(1));
    // Killed before this line, it has been let go already and will not be told again.
    if (!process.connected) process.exit(1);
  }
  const leapList = adoptLeapList(env().dataDir);
  if (leapList !== null) logLine('leap seconds', leapList);
  await ensureLocalActor();
  await recover();
  await queueStaleReconstructions();
  await queueDemoOnce();
  startQueue();
}
