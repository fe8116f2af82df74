/** A channel of states (mode, setting) as named stretches, for its lane on the timeline. */
import type { Reconstruction } from '../core/reconstruction/reconstruction';
import { nameFromId } from '../core/session/name-from-id';
import type { TimeWindow } from './charts/time-window';
import { spokenDuration } from './format-time';
import type { FeedBar } from './navigation/feed-bars';
import { toldStretch } from './told-times';

export type StateLane = Readonly<{ name: string; source: string; bars: readonly FeedBar[] }>;

/** `further` where later changes are not listed: nothing is known of the state after it. */
type Change = Readonly<{ atS: number; from: State; to: State; further: string | null }>;
type State = Readonly<{ value: number; name: string | null }>;

/** One lane a channel, in the order of their first changes; a channel that never changed has none. */
export function stateLanes(
  { sequence, sources }: Pick<Reconstruction, 'sequence' | 'sources'>,
  session: TimeWindow,
): readonly StateLane[] {
  const changes = new Map<string, Change[]>();
  for (const { change, seen, note } of sequence) {
    const atS = seen[0]?.timeS.value ?? null;
    if (change === undefined || atS === null) continue;
    const key = JSON.stringify([change.source, change.channel]);
    const from = { value: change.from, name: change.fromName ?? null };
    const to = { value: change.to, name: change.toName ?? null };
    changes.set(key, [...(changes.get(key) ?? []), { atS, from, to, further: note }]);
  }
  return [...changes].map(([key, list]) => {
    const [source = '', channel = ''] = JSON.parse(key) as readonly string[];
    const covered = sources.find(({ file }) => file === source)?.coverage ?? null;
    const ends = covered ?? [session.fromS, session.toS];
    return { name: nameFromId(channel), source, bars: barsOf(channel, list, ends) };
  });
}

function barsOf(
  channel: string,
  changes: readonly Change[],
  [firstS, lastS]: readonly [number, number],
): readonly FeedBar[] {
  const first = changes[0];
  const states = [
    ...(first === undefined ? [] : [{ fromS: firstS, ...first.from }]),
    ...changes.map(({ atS, to }) => ({ fromS: atS, ...to })),
  ];
  const values = [...new Set(states.map(({ value }) => value))];
  const isCut = changes.some(({ further }) => further !== null);
  return (isCut ? states.slice(0, -1) : states).map(({ fromS, value, name }, index) => {
    const toS = states[index + 1]?.fromS ?? Math.max(fromS, lastS);
    const label = name ?? `${channel} ${value}`;
    return {
      id: `state-${channel}-${index}`,
      fromS,
      toS,
      label,
      detail: `${label}, ${toldStretch(fromS, toS)}, ${spokenDuration(toS - fromS)}`,
      tone: values.indexOf(value) % 2 === 0 ? 'fed' : 'other',
    };
  });
}
