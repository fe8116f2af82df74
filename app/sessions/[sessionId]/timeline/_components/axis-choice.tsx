'use client';

import type { Dispatch } from 'react';
import type { TimelineView } from '@/lib/view/timeline';
import { type AxisKind, axisChoices, axisWords, sameAxis } from '@/lib/view/timeline-clock';
import type { TimelineAction } from '@/lib/view/timeline-state';
import type { CursorStore } from './cursor-store';
import { countFromHere } from './timeline-acts';
import styles from './toolbar.module.css';

type AxisChoiceProps = Readonly<{
  view: TimelineView;
  axis: AxisKind;
  cursor: CursorStore;
  dispatch: Dispatch<TimelineAction>;
  say: (sentence: string) => void;
}>;

const FROM_LOG = 'from-log';

/** What the strips run over: a clock, the time from an event, or how far out the vehicle was. */
export function AxisChoice({ view, axis, cursor, dispatch, say }: AxisChoiceProps) {
  const usual = axisChoices(view);
  const choices = usual.some((each) => sameAxis(each, axis)) ? usual : [...usual, axis];
  const choose = (value: string): void => {
    const chosen = choices[Number(value)];
    if (chosen !== undefined) dispatch({ kind: 'axis', axis: chosen });
    else countFromHere({ view, cursor, dispatch, say });
  };
  return (
    <label className={styles.axis}>
      <span>Axis</span>
      <select
        value={choices.findIndex((each) => sameAxis(each, axis))}
        onChange={(event) => choose(event.target.value)}
      >
        {choices.map((each, index) => (
          <option key={axisWords(each, view)} value={index}>
            {axisWords(each, view)}
          </option>
        ))}
        {view.log.length > 0 && (
          <option value={FROM_LOG}>Time from the log entry at the cursor</option>
        )}
      </select>
    </label>
  );
}
