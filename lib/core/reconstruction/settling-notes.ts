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
    const notes = settling.flatMap(({ fromS, toS, words }) => {
      const isWorst = result.atS !== null && result.atS >= fromS && result.atS <= toS;
      const beyond = own.filter(
        ({ startS, endS }) =>
          (startS.value ?? Infinity) <= toS && (endS.value ?? -Infinity) >= fromS,
      ).length;
      if (!isWorst && beyond === 0) return [];
      const what = [
        ...(isWorst ? ['its worst moment'] : []),
        ...(beyond > 0 ? [beyond === 1 ? 'an exceedance' : `${beyond} exceedances`] : []),
      ].join(' and ');
      const verb =
        isWorst && beyond === 0 ? 'lies' : beyond > 0 && !isWorst && beyond === 1 ? 'lies' : 'lie';
      return [`In the settling time after ${words} ${verb} ${what}.`];
    });
    return notes.length === 0
      ? result
      : { ...result, explanation: `${result.explanation} ${notes.join(' ')}` };
  });
}
