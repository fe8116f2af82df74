/** Stays inside the plan's zones as named stretches, for their lanes on the timeline. */
import type { Reconstruction } from '../core/reconstruction/reconstruction';
import { spokenDuration } from './format-time';
import type { StateLane } from './state-bars';
import { toldStretch } from './told-times';

/** One lane a zone in the order of the plan, one never entered too; what is not known says so beside it. */
export function zoneLanes({ zones = [] }: Pick<Reconstruction, 'zones'>): readonly StateLane[] {
  return zones.map(({ id, title, shape, passes, notKnown }) => ({
    name: title,
    source: notKnown === undefined ? shape : `not known: ${notKnown}`,
    bars: passes.map(({ fromS, toS, enterS, leaveS }, index) => {
      const ends = [
        ...(enterS === null ? ['inside when the data begin'] : []),
        ...(leaveS === null ? ['inside when the data end'] : []),
      ];
      return {
        id: `zone-${id}-${index}`,
        fromS,
        toS,
        label: title,
        detail: [
          `Inside ${title} (${shape})`,
          toldStretch(fromS, toS),
          spokenDuration(toS - fromS),
          ...ends,
        ].join(', '),
        tone: index % 2 === 0 ? 'fed' : 'other',
      };
    }),
  }));
}
