/** Publishes one request as the publishing process does, and tells its greatest resident set. */

import type { PublishRequest } from '@/lib/server/publish/publish-messages';
import { renderDebrief } from '@/lib/server/publish/render-debrief';

process.once('message', async (request: PublishRequest) => {
  const answer = await renderDebrief(request);
  const peakKb = process.resourceUsage().maxRSS;
  const { user, system } = process.cpuUsage();
  process.send?.({ kind: answer.kind, peakKb, processorS: (user + system) / 1e6 });
  process.disconnect();
});
