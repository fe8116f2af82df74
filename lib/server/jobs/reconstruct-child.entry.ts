/** The reconstruction's own process: samples in, reconstruction and derived columns out. */

import { createHash } from 'node:crypto';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { crashPoint } from '../crash-point';
import { env } from '../env';
import { adoptLeapList } from '../leap-list';
import { writeDerived } from '../samples/write-derived';
import type {
  ReconstructAnswer,
  ReconstructedMessage,
  ReconstructRequest,
} from './reconstruct-in-child';
import { fromStored } from './stored-input';

async function compute(request: ReconstructRequest): Promise<ReconstructedMessage> {
  const input = await fromStored(request.stored, request.samplesRoot);
  const { reconstruction, derived } = reconstruct(input, {
    engine: request.engine,
    sha256: (text) => createHash('sha256').update(text, 'utf8').digest('hex'),
  });
  const derivedFolder = await writeDerived(request.samplesRoot, derived);
  crashPoint('import:reconstructed');
  return {
    engine: reconstruction.engine,
    inputsSha256: reconstruction.inputsSha256,
    body: JSON.stringify(reconstruction),
    derivedFolder,
    runsFolder: request.stored.simulations?.folder ?? '',
  };
}

function answer(message: ReconstructAnswer): void {
  process.send?.(message);
}

adoptLeapList(env().dataDir); // the server has said what became of it
process.on('disconnect', () => process.exit(1)); // the server is gone: nobody wants the answer
process.once('message', (request: ReconstructRequest) => {
  compute(request).then(
    (reconstructed) => answer({ kind: 'done', reconstructed }),
    (error: unknown) =>
      answer({
        kind: 'broken',
        message: error instanceof Error ? (error.stack ?? error.message) : String(error),
      }),
  );
});
