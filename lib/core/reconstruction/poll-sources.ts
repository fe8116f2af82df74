/** Which sources had brought what by an instant, and what that leaves unknown. */
import { nameFromId } from '../session/name-from-id';
import { happenedBeforeS, stampingOf } from '../session/stamping';
import { figureOf } from './figure-of';
import type { SourceUse } from './known-by';
import type { RuleAtPoll, SourceAtPoll } from './poll-state';
import type { SessionContext } from './session-context';

/** A source with the age of the last thing that it had brought. @param atS the instant, session time, s */
export function sourceAtPoll(use: SourceUse, built: SessionContext, atS: number): SourceAtPoll {
  const checked = built.telemetry.checked.find(({ source }) => source.file === use.file);
  const log = built.logs.find(({ placed }) => placed.source.file === use.file)?.placed.source;
  const stampS =
    checked === undefined
      ? built.events.findLast(({ source }) => source === use.file)?.timeS
      : checked.tS.at(-1);
  const source = checked?.source ?? log;
  if (use.use !== 'used' || stampS === undefined || source === undefined)
    return { ...use, ageS: null };
  const lastS = stampS - happenedBeforeS(stampingOf(source));
  return {
    ...use,
    ageS: figureOf(
      { sources: [{ file: use.file, sha256: source.sha256 }], channels: [] },
      {
        value: atS - lastS,
        unit: 's',
        random: null,
        method:
          'Instant minus the time at which the last row received by then was measured, or its last entry happened.',
        fromS: lastS,
        toS: atS,
      },
    ),
  };
}

/** What could not be known, in sentences: sources that were not there, and rules that they leave open. */
export function unknownWords(
  sources: readonly SourceAtPoll[],
  rules: readonly RuleAtPoll[],
): readonly string[] {
  const later = sources.filter(({ use }) => use === 'arrived afterwards').map(({ file }) => file);
  const empty = sources.filter(({ use }) => use === 'nothing by then').map(({ file }) => file);
  const unstated = sources.filter(({ isStated }) => !isStated).map(({ file }) => file);
  const count = rules.filter(({ standing }) => standing === 'not known' || standing === 'stale');
  return [
    ...(later.length > 0 ? [`Arrived afterwards and not used: ${later.join(', ')}.`] : []),
    ...(empty.length > 0 ? [`Had brought nothing by then: ${empty.join(', ')}.`] : []),
    ...(count.length > 0
      ? [`Rules that could not be told: ${count.map(({ id }) => nameFromId(id)).join(', ')}.`]
      : []),
    ...(unstated.length > 0
      ? [
          `The session file does not say when these were there, so they are taken as real-time: ${unstated.join(', ')}.`,
        ]
      : []),
  ];
}
