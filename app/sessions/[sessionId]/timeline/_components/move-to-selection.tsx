'use client';

import type { TimeWindow } from '@/lib/view/charts/time-window';
import { clockStretch } from '@/lib/view/timeline-clock';

import { useClock } from './use-axis';

type MoveToSelectionProps = Readonly<{
  stretch: TimeWindow;
  selection: TimeWindow | null;
  move: (stretch: TimeWindow) => void;
}>;

/** A remark keeps its own stretch until somebody moves it on purpose. */
export function MoveToSelection({ stretch, selection, move }: MoveToSelectionProps) {
  const clock = useClock();
  if (selection === null) return null;
  if (selection.fromS === stretch.fromS && selection.toS === stretch.toS) return null;
  return (
    <button type="button" className="button" onClick={() => move(selection)}>
      Move it to the selection, {clockStretch(clock, selection)}
    </button>
  );
}
