'use client';

import type { DescribedTime } from '@/lib/core/intake/proposal/first-instant';
import {
  CODE_CHOICES,
  countsFrom,
  mayBeSplit,
  ORDER_CHOICES,
  SCALE_CHOICES,
} from '@/lib/view/describe-view';
import { Choose, Write } from './labelled';

type TimeFieldsProps = Readonly<{
  time: DescribedTime;
  /** Columns to choose from; empty for a log of lines. */
  header: readonly string[];
  onChange: (time: DescribedTime) => void;
}>;

const TWO_COLUMNS = 'gps-week-seconds';
const SAME_COLUMN = { value: '', label: 'in the same column' };

/** How the times of a file are written: columns, code and scale. */
export function TimeFields({ time, header, onChange }: TimeFieldsProps) {
  const columns = header.map((name) => ({ value: name, label: name }));
  const needsTwo = time.code === TWO_COLUMNS;
  const isSplit = mayBeSplit(time.code) && time.columns.length > 1;
  const label = needsTwo ? 'Column of the week' : `Column of the ${isSplit ? 'dates' : 'times'}`;
  function changeCode(value: string): void {
    const known = CODE_CHOICES.find((choice) => choice.value === value)?.value ?? null;
    const isElapsed = countsFrom(known);
    const keepsBoth = known === TWO_COLUMNS || (mayBeSplit(known) && mayBeSplit(time.code));
    onChange({
      columns: keepsBoth ? time.columns : time.columns.slice(0, 1),
      code: known,
      scale: isElapsed ? 'UTC' : time.scale,
      from: isElapsed ? time.from : null,
      dateOrder: time.dateOrder,
    });
  }
  function changeColumn(index: number, name: string): void {
    const next = [...time.columns];
    next[index] = name;
    onChange({ ...time, columns: name === '' ? next.slice(0, index) : next });
  }
  return (
    <>
      {header.length > 0 && (
        <Choose
          label={label}
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
      {mayBeSplit(time.code) && time.columns.length > 0 && header.length > 1 && (
        <Choose
          label="Time of day"
          value={time.columns[1] ?? ''}
          choices={[SAME_COLUMN, ...columns]}
          onChange={(name) => changeColumn(1, name)}
        />
      )}
      <Choose label="Written as" value={time.code} choices={CODE_CHOICES} onChange={changeCode} />
      {time.code === 'iso8601' && time.dateOrder !== null && (
        <Choose
          label="In the dates"
          value={time.dateOrder === 'open' ? null : time.dateOrder}
          choices={ORDER_CHOICES}
          onChange={(value) => {
            const order = ORDER_CHOICES.find((choice) => choice.value === value)?.value ?? 'open';
            onChange({ ...time, dateOrder: order });
          }}
        />
      )}
      <Choose
        label="Time scale"
        value={time.scale}
        choices={SCALE_CHOICES}
        onChange={(value) => {
          const scale = SCALE_CHOICES.find((choice) => choice.value === value)?.value ?? null;
          onChange({ ...time, scale });
        }}
      />
      {countsFrom(time.code) && (
        <Write
          label="Counted from, UTC"
          value={time.from ?? ''}
          need="optional"
          placeholder="session time 0"
          onChange={(from) => onChange({ ...time, from: from === '' ? null : from })}
        />
      )}
    </>
  );
}
