/** What a reader has to know of people's corrections, in sentences. */
import type { Issue } from '../result';
import type { PhaseEditResult, PhaseEdits } from './phase-edits';

function named(results: readonly PhaseEditResult[]): string {
  return results.map(({ what, edit }) => `${what} (${edit.by ?? 'not named'})`).join(', ');
}

/**
 * One note for the corrections that count, and one warning for each that does not fit.
 *
 * @param edits absent where nobody said anything
 */
export function phaseEditNotes(edits: PhaseEdits | undefined): readonly Issue[] {
  const results = edits?.results ?? [];
  const counting = results.filter(({ outcome }) => outcome.state === 'applied');
  const unfit = results.filter(({ outcome }) => outcome.state === 'not applied');
  const counts: readonly Issue[] =
    counting.length === 0
      ? []
      : [
          {
            code: 'set-by-people',
            severity: 'note',
            message: `Set by people, not computed: ${named(counting)}. Figures that rest on it are marked and say what was computed.`,
          },
        ];
  const faults = unfit.map((result): Issue => {
    const message = `A correction does not fit the data and changes nothing: ${named([result])}; ${result.outcome.fault}.`;
    return { code: 'correction-does-not-fit', severity: 'warning', message };
  });
  return [...counts, ...faults];
}
