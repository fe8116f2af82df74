'use client';

import type { TimeWindow } from '@/lib/view/charts/time-window';
import { formatStretch } from '@/lib/view/format-time';

type MoveToSelectionProps = Readonly<{
  stretch: TimeWindow;
  selection: TimeWindow | null;
  move: (stretch: TimeWindow) => void;
}>;

/** A remark keeps its own stretch until somebody moves it on purpose. */
export function MoveToSelection({ stretch, selection, move }: MoveToSelectionProps) {
  if (selection === null) return null;
  if (selection.fromS === stretch.fromS && selection.toS === stretch.toS) return null;
  return (
    <button type="button" className="button" onClick={() => move(selection)}>
      Move it to the selection, {formatStretch(selection.fromS, selection.toS)}
    </button>
  );
}
