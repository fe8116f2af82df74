/** Dispositions beside the verdicts, each with the log entry it rests on. */
import { nameFromId } from '../session/name-from-id';
import type { Rule } from '../session/rule';
import type { RuleDisposition } from '../session/rule-disposition';
import type { DispositionResult, SessionEvent } from './reconstruction';

/**
 * Finds what each disposition names.
 *
 * @returns in the order in which they were given; nothing is dropped: what names no rule or no entry
 *   says so in `fault`
 */
export function dispositionResults(
  dispositions: readonly RuleDisposition[],
  rules: readonly Rule[],
  events: readonly SessionEvent[],
): readonly DispositionResult[] {
  const known = new Set(rules.map(({ id }) => id));
  return dispositions.map((disposition): DispositionResult => {
    const { entry, rule } = disposition;
    const found =
      entry === null
        ? undefined
        : events.find(({ source, line }) => source === entry.source && line === entry.line);
    const faults = [
      ...(known.has(rule) ? [] : [`the rule file has no rule ${nameFromId(rule)}`]),
      ...(entry !== null && found === undefined
        ? [`${entry.source} has no entry on line ${entry.line}`]
        : []),
    ];
    return {
      ...disposition,
      // The entry's own time counts where nobody states another.
      atS: disposition.atS ?? found?.timeS ?? null,
      entryWords: found?.text ?? found?.event ?? null,
      fault: faults.length === 0 ? null : faults.join('; '),
    };
  });
}
