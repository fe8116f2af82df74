/** Computes a reconstruction in a process of its own. */
import { samplesRoot } from '../data-folders';
import { currentEngine } from './built';
import type { Broken } from './child-answer';
import { runInChild } from './run-in-child';
import type { StoredInput } from './stored-input';

export type ReconstructRequest = Readonly<{
  stored: StoredInput;
  samplesRoot: string;
  engine: string;
}>;

export type ReconstructedMessage = Readonly<{
  engine: string;
  inputsSha256: string;
  /** The reconstruction as JSON. */
  body: string;
  derivedFolder: string;
  /** Empty where there are no simulator runs. */
  runsFolder: string;
}>;

export type ReconstructAnswer =
  | Readonly<{ kind: 'done'; reconstructed: ReconstructedMessage }>
  | Broken;

/** Throws what the child threw, and the signal's reason when it was cancelled. */
export function reconstructInChild(
  stored: StoredInput,
  signal: AbortSignal,
): Promise<ReconstructedMessage> {
  const request: ReconstructRequest = {
    stored,
    samplesRoot: samplesRoot(),
    engine: currentEngine(),
  };
  return runInChild<ReconstructAnswer, ReconstructedMessage>({
    entry: 'reconstruct-child',
    request,
    take: ({ reconstructed }) => reconstructed,
    signal,
  });
}
