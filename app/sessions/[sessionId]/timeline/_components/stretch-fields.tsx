'use client';

import type { TimeWindow } from '@/lib/view/charts/time-window';
import type { EntryPlace } from '@/lib/view/timeline-time-entry';
import { TimeField } from './time-field';
import { useClock } from './use-axis';

type StretchFieldsProps = Readonly<{
  place: EntryPlace;
  stretch: TimeWindow | null;
  /** An end alone makes an instant; the other end is typed next. */
  onChange: (stretch: TimeWindow) => void;
}>;

/** Both ends of a stretch as exact times. An end past the other one is refused, never swapped. */
export function StretchFields({ place, stretch, onChange }: StretchFieldsProps) {
  const clock = useClock();
  return (
    <>
      <TimeField
        label="from"
        place={place}
        valueS={stretch?.fromS ?? null}
        refuses={(tS) => {
          if (stretch === null || stretch.toS === stretch.fromS || tS <= stretch.toS) return null;
          return `Later than the end, ${clock.fieldText(stretch.toS)}: change the end first.`;
        }}
        onChange={(tS) => {
          const isInstant = stretch === null || stretch.toS === stretch.fromS;
          onChange({ fromS: tS, toS: isInstant ? Math.max(tS, stretch?.toS ?? tS) : stretch.toS });
        }}
      />
      <TimeField
        label="to"
        place={place}
        valueS={stretch?.toS ?? null}
        refuses={(tS) => {
          if (stretch === null || tS >= stretch.fromS) return null;
          return `Earlier than the start, ${clock.fieldText(stretch.fromS)}: change the start first.`;
        }}
        onChange={(tS) => onChange({ fromS: stretch?.fromS ?? tS, toS: tS })}
      />
    </>
  );
}
