/** What the absence of an event from the logs rests on, where it rests on little. */
import type { When } from '../session/rule';
import { sessionTimeText } from '../time/session-time-text';
import { insideWhen, type RuleContext } from './rule-context';

type Stretch = Readonly<{ fromS: number; toS: number }>;

/** First and last moment at which a rule applies; null where no row lies inside. */
function whereItApplies(when: When | null, context: RuleContext): Stretch | null {
  const { motion, evaluated } = context;
  if (when === null) return evaluated;
  const span = when.step === null ? undefined : context.steps.get(when.step);
  if (span !== undefined && when.rangeM === null && when.axialM === null)
    return { fromS: span.startS, toS: span.endS };
  const tS = motion?.tS ?? new Float64Array(0);
  const isInside = (atS: number): boolean => insideWhen(when, atS, context) === 'inside';
  const first = tS.findIndex(isInside);
  if (first < 0) return null;
  return { fromS: tS[first] ?? Number.NaN, toS: tS[tS.findLastIndex(isInside)] ?? Number.NaN };
}

/**
 * A caution where an event is said not to have occurred and no log was there to name it.
 *
 * @param when where the rule applies
 * @returns in words: no log names events, or those that do end before the rule applies or begin
 *   after it; null where a log reaches into the stretch
 */
export function absenceCaution(when: When | null, context: RuleContext): string | null {
  const { events } = context;
  const [first, last] = [events[0], events.at(-1)];
  if (first === undefined || last === undefined) return 'no entry of the logs names an event';
  const stretch = whereItApplies(when, context);
  if (stretch === null) return null;
  const span = context.eventLogs ?? { fromS: first.timeS, toS: last.timeS };
  const time = (atS: number): string => sessionTimeText(atS, 0);
  const applies = `the rule applies from ${time(stretch.fromS)}`;
  if (span.toS < stretch.fromS)
    return `the logs that name events end at ${time(span.toS)}, and ${applies}`;
  return span.fromS > stretch.toS
    ? `the logs that name events begin at ${time(span.fromS)}, and ${applies} to ${time(stretch.toS)}`
    : null;
}
