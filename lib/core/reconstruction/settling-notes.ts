/** Rules that were judged while the solution was still settling: their verdicts say so. */
import { sessionTimeText } from '../time/session-time-text';
import type { NavigationReport } from './navigation-report';
import type { Exceedance, RuleResult } from './reconstruction';

type Settling = Readonly<{ fromS: number; toS: number; words: string }>;

function settlingOf({ steps }: NavigationReport): readonly Settling[] {
  return steps.flatMap(({ atS, handOver }): Settling[] => {
    if (handOver === null || handOver.settlesS <= 0) return [];
    const fromS = atS.evidence.fromS ?? atS.value ?? Number.NaN;
    const toS = (atS.evidence.toS ?? fromS) + handOver.settlesS;
    const words = `the hand-over to ${handOver.to} at ${sessionTimeText(atS.value ?? fromS, 1)}`;
    return [{ fromS, toS, words }];
  });
}

/**
 * Adds to each verdict whether its worst moment or one of its exceedances lies in the settling time
 * after a hand-over. Neither verdict nor margin is changed: a person has to judge what it is worth.
 */
export function noteSettling(
  results: readonly RuleResult[],
  exceedances: readonly Exceedance[],
  navigation: NavigationReport | null,
): readonly RuleResult[] {
  const settling = navigation === null ? [] : settlingOf(navigation);
  if (settling.length === 0) return results;
  return results.map((result) => {
    if (result.margin === null || result.unit === 's') return result;
    const own = exceedances.filter(({ rule }) => rule === result.id);
    const near = settling.map(({ fromS, toS, words }) => ({
      words,
      isWorst: result.atS !== null && result.atS >= fromS && result.atS <= toS,
      beyond: own.filter(
        ({ startS, endS }) =>
          (startS.value ?? Infinity) <= toS && (endS.value ?? -Infinity) >= fromS,
      ),
    }));
    const worst = near.filter(({ isWorst }) => isWorst);
    const over = near.filter(({ beyond }) => beyond.length > 0);
    const count = new Set(over.flatMap(({ beyond }) => beyond)).size;
    const beyond = count === 1 ? 'an exceedance' : `${count} exceedances`;
    const isSame = worst.length > 0 && listed(worst) === listed(over);
    const notes = isSame
      ? [`${AFTER} ${listed(worst)} lie its worst moment and ${beyond}.`]
      : [
          ...(worst.length === 0 ? [] : [`${AFTER} ${listed(worst)} lies its worst moment.`]),
          ...(over.length === 0
            ? []
            : [`${AFTER} ${listed(over)} ${count === 1 ? 'lies' : 'lie'} ${beyond}.`]),
        ];
    return notes.length === 0
      ? result
      : { ...result, explanation: `${result.explanation} ${notes.join(' ')}` };
  });
}

const AFTER = 'In the settling time after';

/** So many hand-overs are named; how many more there are is said. */
const MOST_NAMED = 2;

function listed(near: readonly Readonly<{ words: string }>[]): string {
  const named = near.slice(0, MOST_NAMED).map(({ words }) => words);
  const rest = near.length - named.length;
  return rest === 0 ? named.join(' and ') : `${named.join(', ')} and ${rest} more`;
}
