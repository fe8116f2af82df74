/** The process that reads a session with a draft: samples in, differences out, nothing written. */
import { createHash } from 'node:crypto';
import { readingDifferences } from '@/lib/core/reconstruction/reading-differences';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { answerParent } from '../jobs/answer-parent';
import { fromStored } from '../jobs/stored-input';
import type { TrialAnswer, TrialRequest } from './trial-messages';

answerParent(async (request: TrialRequest): Promise<TrialAnswer> => {
  const input = await fromStored(request.stored, request.samplesRoot);
  const options = {
    engine: request.engine,
    sha256: (text: string) => createHash('sha256').update(text, 'utf8').digest('hex'),
  };
  const now = request.now ?? reconstruct(input, options).reconstruction;
  const { reconstruction } = reconstruct({ ...input, ...request.draft }, options);
  return { kind: 'done', differences: readingDifferences(now, reconstruction) };
});
