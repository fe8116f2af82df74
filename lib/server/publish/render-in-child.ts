/** Renders a debrief in a process of its own. */
import { runInChild } from '../jobs/run-in-child';
import type { PublishAnswer, PublishRequest, Rendering } from './publish-messages';

/** Longer than any document within the limits takes. */
const LIMIT_MS = 120_000;
const HEAP_MB = 1536;

/** @returns the child's answer; throws where it broke, ended early or took too long */
export function renderInChild(request: PublishRequest): Promise<Rendering> {
  return runInChild<PublishAnswer, Rendering>({
    entry: 'publish-child',
    request,
    take: (rendering) => rendering,
    signal: AbortSignal.timeout(LIMIT_MS),
    heapMb: HEAP_MB,
  });
}
