/** The notice over a session that is shown as it was before a newer program or a correction. */

type RenewalInput = Readonly<{
  cause: 'engine' | 'correction';
  state: 'none' | 'waiting' | 'running' | 'failed';
  jobId: string | null;
  reasons: readonly string[];
}>;

export type RenewalView = Readonly<{
  text: string;
  /** Job to be followed to its end; null where nothing is going on. */
  followedJobId: string | null;
}>;

const MADE_BEFORE: Readonly<Record<RenewalInput['cause'], string>> = {
  engine: 'An earlier version of this program computed what you see.',
  correction:
    'A correction was made, or another version put in use, that is not yet in what you see.',
};
const KEPT = 'Published debriefs stay as they are.';

/** A file that is being replaced: what is drawn is the edition before. */
export function replacementView(
  replacement: Readonly<{ file: string; jobId: string }> | null,
): RenewalView | null {
  if (replacement === null) return null;
  const { file, jobId } = replacement;
  return {
    text: `${file} is being replaced. What is drawn is still the edition before; this page shows the new one once it has been read.`,
    followedJobId: jobId,
  };
}

export function renewalView(renewal: RenewalInput | null): RenewalView | null {
  if (renewal === null) return null;
  const { state, jobId, reasons } = renewal;
  const before = MADE_BEFORE[renewal.cause];
  switch (state) {
    case 'waiting':
    case 'running': {
      const going =
        state === 'running' ? 'It is being computed again now' : 'It waits to be computed again';
      return {
        text: `${before} ${going}; this page then shows the new one. ${KEPT}`,
        followedJobId: jobId,
      };
    }
    case 'failed': {
      const why = reasons.length === 0 ? '' : ` (${reasons.join('; ')})`;
      return {
        text: `${before} It could not be computed again${why}, so the earlier one stays in use; the next start of the program tries again.`,
        followedJobId: null,
      };
    }
    case 'none':
      return {
        text: `${before} It is computed again at the next start of the program. ${KEPT}`,
        followedJobId: null,
      };
  }
}
