/** What fed the solution as stretches, for the strip on the timeline and the one on its own screen. */
import type { FeedKind } from '../../core/navigation/source-states';
import type { Reconstruction } from '../../core/reconstruction/reconstruction';
import { formatStretch, spokenDuration } from '../format-time';

/** `unused` are samples that were there and not used, or rows that are missing. */
export type FeedTone = 'fed' | 'other' | 'carried' | 'unused';

/** `label` is short, `detail` the whole sentence for hover and lists. */
export type FeedBar = Readonly<{
  id: string;
  fromS: number;
  toS: number;
  label: string;
  detail: string;
  tone: FeedTone;
}>;

const KIND_WORDS: Readonly<Record<FeedKind, string>> = {
  measured: 'measured',
  propagated: 'carried on without measurements',
  rejected: 'measured and refused',
  unknown: 'not explained in the session file',
};

export function kindWords(kind: FeedKind): string {
  return KIND_WORDS[kind];
}

/** Neighbouring sensors are told apart by their tone as well as by their name. */
export function feedBars(
  { navigation }: Reconstruction,
  stretchText: (fromS: number, toS: number) => string = formatStretch,
): readonly FeedBar[] {
  const names = [...new Set((navigation?.feeds ?? []).map(({ name }) => name))];
  return (navigation?.feeds ?? []).map(({ name, kind, fromS, toS }, index) => ({
    id: `feed-${index}`,
    fromS,
    toS,
    label: name,
    detail: `Navigation: ${name}, ${KIND_WORDS[kind]}, ${stretchText(fromS, toS)}, ${spokenDuration(toS - fromS)}`,
    tone: kind !== 'measured' ? 'carried' : names.indexOf(name) % 2 === 0 ? 'fed' : 'other',
  }));
}

/** Stretches of the solution that were not used; single samples and held values are not drawn. */
export function unusedBars({ navigation }: Reconstruction): readonly FeedBar[] {
  return (navigation?.unused ?? []).flatMap(({ what, channel, fromS, toS, note }, index) => {
    if (what === 'held values' || toS - fromS < 1) return [];
    const label = channel === null ? what : `${channel} ${what}`;
    return [
      {
        id: `unused-${index}`,
        fromS,
        toS,
        label,
        detail: `Not used of the solution: ${label}, ${formatStretch(fromS, toS)}. ${note}`,
        tone: 'unused' as const,
      },
    ];
  });
}
