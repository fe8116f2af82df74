/** The reconstruction's worker thread: samples in, reconstruction and derived columns out. */
import { createHash } from 'node:crypto';
import { parentPort, workerData } from 'node:worker_threads';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { crashPoint } from '../crash-point';
import { writeDerived } from '../samples/write-derived';
import type { ReconstructedMessage, ReconstructRequest } from './reconstruct-in-worker';
import { fromStored } from './stored-input';

const request = workerData as ReconstructRequest;
const input = await fromStored(request.stored, request.samplesRoot);
const { reconstruction, derived } = reconstruct(input, {
  engine: request.engine,
  sha256: (text) => createHash('sha256').update(text, 'utf8').digest('hex'),
});
const derivedFolder = await writeDerived(request.samplesRoot, derived);
crashPoint('import:reconstructed');
const answer: ReconstructedMessage = {
  engine: reconstruction.engine,
  inputsSha256: reconstruction.inputsSha256,
  body: JSON.stringify(reconstruction),
  derivedFolder,
};
parentPort?.postMessage(answer);
