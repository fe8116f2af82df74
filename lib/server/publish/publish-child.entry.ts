/** The publishing process: resolves and renders one debrief, answers, and is then ended. */
import type { PublishAnswer, PublishRequest } from './publish-messages';
import { renderDebrief } from './render-debrief';

function answer(message: PublishAnswer): void {
  process.send?.(message);
}

process.once('message', (request: PublishRequest) => {
  renderDebrief(request)
    .then(answer)
    .catch((error: unknown) => {
      answer({ kind: 'broken', message: error instanceof Error ? error.message : String(error) });
    });
});
process.once('disconnect', () => process.exit(0));
