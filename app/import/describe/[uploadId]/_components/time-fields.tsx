'use client';

import type { DescribedTime } from '@/lib/core/intake/proposal/session-proposal';
import { CODE_CHOICES, SCALE_CHOICES } from '@/lib/view/describe-view';
import { Choose } from './labelled';

type TimeFieldsProps = Readonly<{
  time: DescribedTime;
  /** Columns to choose from; empty for a log of lines. */
  header: readonly string[];
  onChange: (time: DescribedTime) => void;
}>;

const TWO_COLUMNS = 'gps-week-seconds';

/** How the times of a file are written: columns, code and scale. */
export function TimeFields({ time, header, onChange }: TimeFieldsProps) {
  const columns = header.map((name) => ({ value: name, label: name }));
  const needsTwo = time.code === TWO_COLUMNS;
  function changeCode(value: string): void {
    const known = CODE_CHOICES.find((choice) => choice.value === value)?.value ?? null;
    const isElapsed = known === 'elapsed-seconds' || known === 'elapsed-dhms';
    const kept = known === TWO_COLUMNS ? time.columns : time.columns.slice(0, 1);
    onChange({ columns: kept, code: known, scale: isElapsed ? 'UTC' : time.scale });
  }
  function changeColumn(index: number, name: string): void {
    const next = [...time.columns];
    next[index] = name;
    onChange({ ...time, columns: next });
  }
  return (
    <>
      {header.length > 0 && (
        <Choose
          label={needsTwo ? 'Column of the week' : 'Column of the times'}
          value={time.columns[0] ?? null}
          choices={columns}
          onChange={(name) => changeColumn(0, name)}
        />
      )}
      {needsTwo && (
        <Choose
          label="Column of the seconds"
          value={time.columns[1] ?? null}
          choices={columns}
          onChange={(name) => changeColumn(1, name)}
        />
      )}
      <Choose label="Written as" value={time.code} choices={CODE_CHOICES} onChange={changeCode} />
      <Choose
        label="Time scale"
        value={time.scale}
        choices={SCALE_CHOICES}
        onChange={(value) => {
          const scale = SCALE_CHOICES.find((choice) => choice.value === value)?.value ?? null;
          onChange({ ...time, scale });
        }}
      />
    </>
  );
}
