/** The reconstruction's own process: samples in, reconstruction and derived columns out. */

import { createHash } from 'node:crypto';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { crashPoint } from '../crash-point';
import { writeDerived } from '../samples/write-derived';
import { answerParent } from './answer-parent';
import type { ReconstructAnswer, ReconstructRequest } from './reconstruct-in-child';
import { fromStored } from './stored-input';

async function compute(request: ReconstructRequest): Promise<ReconstructAnswer> {
  const input = await fromStored(request.stored, request.samplesRoot);
  const { reconstruction, derived, tracks, differences } = reconstruct(input, {
    engine: request.engine,
    sha256: (text) => createHash('sha256').update(text, 'utf8').digest('hex'),
  });
  const derivedFolder = await writeDerived(request.samplesRoot, derived, {
    tracks,
    differences,
  });
  crashPoint('import:reconstructed');
  const { engine, inputsSha256 } = reconstruction;
  const body = JSON.stringify(reconstruction);
  const runsFolder = request.stored.simulations?.folder ?? '';
  return { kind: 'done', reconstructed: { engine, inputsSha256, body, derivedFolder, runsFolder } };
}

answerParent(compute);
