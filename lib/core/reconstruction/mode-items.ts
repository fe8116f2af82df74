/** Changes of modes in the as-flown sequence. */
import { changeSighting, type DiscreteColumn, stateChanges } from '../sequence/discretes';
import { nameFromId } from '../session/name-from-id';
import type { CheckedSource } from './data-quality';
import type { SequenceItem } from './reconstruction';
import { type SeenOrigins, seenThings } from './seen-things';
import { itemOf } from './sequence-item';

/** So many changes of one channel are listed; the rest is said. */
const MOST_CHANGES = 200;

type ModeInputs = Readonly<{ sources: readonly CheckedSource[]; origins: SeenOrigins }>;

/** `nameOf` gives the name that the session file has for a value; null where it has none. */
type ModeColumn = Readonly<{ column: DiscreteColumn; nameOf: (value: number) => string | null }>;

/** Channels of modes: those called so, and those whose values the session file explains. */
function modeColumns(sources: readonly CheckedSource[]): readonly ModeColumn[] {
  return sources.flatMap((checked) => {
    const { modes } = checked.source.declared;
    const names = new Set(['mode', ...(modes === undefined ? [] : [modes.channel])]);
    return checked.channels
      .filter(({ channel }) => names.has(channel.as) || channel.name === modes?.channel)
      .map(({ channel: { name, as, values } }) => {
        const states = [name, as].includes(modes?.channel ?? '') ? (modes?.states ?? []) : [];
        return {
          column: { source: checked.source.file, channel: name, tS: checked.tS, values },
          nameOf: (value: number) => states.find((state) => state.value === value)?.name ?? null,
        };
      });
  });
}

/** Changes of the modes, each with the names that the session file gives the states. */
export function stateItems({ sources, origins }: ModeInputs): readonly SequenceItem[] {
  return modeColumns(sources).flatMap(({ column, nameOf }, at) => {
    const changes = stateChanges(column, MOST_CHANGES);
    return changes.map((change, index) => {
      const [fromName, toName] = [nameOf(change.from), nameOf(change.to)];
      return itemOf({
        key: `state-${at}-${index}`,
        kind: 'state',
        what: `${nameFromId(column.channel)} ${fromName ?? change.from} to ${toName ?? change.to}`,
        seen: seenThings([changeSighting(column, change)], origins),
        change: {
          source: column.source,
          channel: column.channel,
          from: change.from,
          to: change.to,
          ...(fromName === null ? {} : { fromName }),
          ...(toName === null ? {} : { toName }),
        },
        note:
          changes.length === MOST_CHANGES && index === MOST_CHANGES - 1
            ? 'further changes are not listed'
            : null,
      });
    });
  });
}
