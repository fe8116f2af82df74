/** The publishing process: resolves and renders one debrief, answers, and is then ended. */
import { env } from '../env';
import { adoptLeapList } from '../leap-list';
import type { PublishAnswer, PublishRequest } from './publish-messages';
import { renderDebrief } from './render-debrief';

function answer(message: PublishAnswer): void {
  process.send?.(message);
}

adoptLeapList(env().dataDir); // the server has said what became of it
process.once('message', (request: PublishRequest) => {
  renderDebrief(request)
    .then(answer)
    .catch((error: unknown) => {
      answer({ kind: 'broken', message: error instanceof Error ? error.message : String(error) });
    });
});
process.once('disconnect', () => process.exit(0));
