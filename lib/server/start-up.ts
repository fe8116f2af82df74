/** What the server does before it answers: mend, then run the queue. */
import { ensureLocalActor } from './actor';
import { startQueue } from './jobs/queue';
import { queueDemoOnce, queueStaleReconstructions, recover } from './jobs/recover';

export async function startUp(): Promise<void> {
  await ensureLocalActor();
  await recover();
  await queueStaleReconstructions();
  await queueDemoOnce();
  startQueue();
}
